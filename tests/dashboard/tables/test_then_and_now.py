"""The tables of the page then and now: corners, ingredients, the old cost moved three ways."""

from __future__ import annotations

import pandas as pd

from dashboard.tables.then_and_now import (
    corner_rows,
    ingredient_rows,
    rebased_rows,
)
from pricing.book.connect import Book
from pricing.change.compare import compare
from pricing.change.records import Comparison
from tests.kitchen import TODAY


def plain(frame: pd.DataFrame) -> list[list[str]]:
    return frame.map(lambda cell: cell.replace("\\", "").replace("\u00a0", " ")).values.tolist()


def test_the_four_corners_stand_in_a_square(bowl: Comparison) -> None:
    # version 1: 0.40 and 0.65 (see small_kitchen.py); version 2: 0.10 + 0.20 in June, 0.50 now
    assert plain(corner_rows(bowl)) == [
        ["Recipe of then, version 1", "$0.40", "$0.65"],
        ["Recipe of now, version 2", "$0.30", "$0.50"],
    ]


def test_two_versions_of_one_day_keep_both_columns(kitchen: Book) -> None:
    same = compare(kitchen, "barley bowl", then=(TODAY, "1"), now=(TODAY, "2"))
    assert plain(corner_rows(same))[0] == ["Recipe of then, version 1", "$0.65", "$0.65"]


def test_every_ingredient_leads_to_its_prices(bowl: Comparison) -> None:
    (leek, barley) = plain(ingredient_rows(bowl, "us"))
    # 0.002 and 0.003 a gram × 453.59237 = 0.907 and 1.361 a pound
    assert leek == [
        "[leek](ingredients?ingredient=leek)", "150 g", "100 g", "$0.91 per lb", "$1.36 per lb",
        "+$0.15", "−$0.15",
    ]  # fmt: skip
    assert barley[0] == "[pearl barley](ingredients?ingredient=pearl%20barley)"


def test_the_old_cost_is_moved_three_ways_and_each_says_what_it_means(bowl: Comparison) -> None:
    rows = plain(rebased_rows(bowl, "us-bls:SAF11"))
    # a title that begins so says it once
    assert [row[0] for row in rows] == [
        "Food at home, US city average", "All items, US city average", "Its own ingredients",
    ]  # fmt: skip
    assert rows[2][1] == "$0.65"  # version 1 at November's prices
    assert "food bought for home" in rows[0][2]
    assert "all that households buy" in rows[1][2]
    assert "the recipe as printed, version 1" in rows[2][2]
