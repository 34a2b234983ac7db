"""The waterfall: its steps add up as shown, and prices and recipe differ by more than colour."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pandas as pd
import pytest

from dashboard.change_table import corner_rows, ingredient_rows, rebased_rows, waterfall_steps
from dashboard.charts.waterfall import PRICE, RECIPE, TOTAL, waterfall_chart
from pricing.book.connect import Book
from pricing.change.compare import compare
from pricing.change.records import Comparison
from tests.kitchen import TODAY

JUNE = date(2026, 6, 15)


@pytest.fixture
def bowl(kitchen: Book) -> Comparison:
    """Version 1 in June and 2 in November: see tests/dashboard/small_kitchen.py."""
    return compare(kitchen, "barley bowl", then=JUNE, now=TODAY)


def test_the_steps_lead_from_then_to_now(bowl: Comparison) -> None:
    steps = waterfall_steps(bowl)
    # leek ½(150 + 100) × 0.001 = 0.125 and barley 100 × 0.001 = 0.10 by prices, together 0.225;
    # leek ½(0.002 + 0.003) × (100 − 150) = −0.125 by the recipe; +0.10 = +0.23 − 0.13 as shown,
    # where the cent that rounding adds to the prices goes to the larger remainder, leek's
    assert steps[["step", "kind", "shown"]].values.tolist() == [
        ["Then, 15 June 2026", TOTAL, "$0.40"],
        ["leek dearer", PRICE, "+$0.13"],
        ["pearl barley dearer", PRICE, "+$0.10"],
        ["less leek", RECIPE, "−$0.13"],
        ["Now, 24 November 2026", TOTAL, "$0.50"],
    ]
    assert list(steps["start"]) == pytest.approx([0.0, 0.40, 0.525, 0.625, 0.0])
    assert list(steps["end"]) == pytest.approx([0.40, 0.525, 0.625, 0.50, 0.50])
    assert steps["said"][1] == "leek dearer: +$0.13 by prices"


def test_the_steps_add_up_as_shown_whatever_the_days(kitchen: Book) -> None:
    days = [JUNE, date(2026, 8, 1), date(2026, 11, 1), TODAY]
    for dish in ("barley bowl", "barley supper", "saffron barley"):
        for then in days:
            for now in days:
                steps = waterfall_steps(compare(kitchen, dish, then=then, now=now))
                shown = [
                    Decimal(words.replace("$", "").replace("−", "-")) for words in steps["shown"]
                ]
                assert sum(shown[:-1]) == shown[-1]


def drawn(frame: pd.DataFrame) -> dict[str, Any]:
    spec: dict[str, Any] = waterfall_chart(frame, currency="USD").to_dict()
    return spec


def of_kind(spec: dict[str, Any], mark: str) -> list[dict[str, Any]]:
    return [layer for layer in spec["layer"] if layer["mark"]["type"] == mark]


def data_of(spec: dict[str, Any], layer: dict[str, Any]) -> list[dict[str, Any]]:
    rows: list[dict[str, Any]] = spec["datasets"][layer["data"]["name"]]
    return rows


def test_recipe_bars_are_striped_and_price_bars_are_not(bowl: Comparison) -> None:
    spec = drawn(waterfall_steps(bowl))
    (stripes,) = of_kind(spec, "tick")
    rows = data_of(spec, stripes)
    assert {row["step"] for row in rows} == {"less leek"}
    assert all(0.50 < row["low"] < 0.625 for row in rows)  # on the bar, not beside it
    assert len(rows) > 5


def test_every_bar_says_in_words_what_it_is(bowl: Comparison) -> None:
    spec = drawn(waterfall_steps(bowl))
    words = [row["words"] for row in data_of(spec, of_kind(spec, "text")[1])]
    assert words == ["$0.40", "+$0.13 by prices", "+$0.10 by prices", "−$0.13 by the recipe",
                     "$0.50"]  # fmt: skip
    (bars,) = of_kind(spec, "bar")
    assert bars["encoding"]["description"]["field"] == "said"
    assert spec["usermeta"]["embedOptions"]["renderer"] == "svg"


def test_the_steps_stand_from_the_top_and_long_words_break(bowl: Comparison) -> None:
    long = waterfall_steps(bowl).replace("less leek", "4 portions to the batch instead of 12")
    (bars,) = of_kind(drawn(long), "bar")
    assert bars["encoding"]["y"]["sort"] == [
        "Then, 15 June 2026", "leek dearer", "pearl barley dearer",
        "4 portions to the batch\ninstead of 12", "Now, 24 November 2026",
    ]  # fmt: skip


def test_a_dish_that_did_not_change_has_two_bars(kitchen: Book) -> None:
    steps = waterfall_steps(compare(kitchen, "barley bowl", then=TODAY, now=TODAY))
    assert list(steps["kind"]) == [TOTAL, TOTAL]
    assert not of_kind(drawn(steps), "tick")


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
        "[leek](prices?ingredient=leek)", "150 g", "100 g", "$0.91 per lb", "$1.36 per lb",
        "+$0.13", "−$0.13",
    ]  # fmt: skip
    assert barley[0] == "[pearl barley](prices?ingredient=pearl%20barley)"


def test_the_old_cost_is_moved_three_ways_and_each_says_what_it_means(bowl: Comparison) -> None:
    rows = plain(rebased_rows(bowl, "us-bls:SAF11"))
    # a title that begins so says it once
    assert [row[0] for row in rows] == [
        "Food at home, US city average", "All items, US city average", "Its own ingredients",
    ]  # fmt: skip
    assert rows[2][1] == "$0.65"  # version 1 at November's prices
    assert "food bought for home" in rows[0][2]
    assert "all that households buy" in rows[1][2]
    assert "the recipe of then, version 1" in rows[2][2]
