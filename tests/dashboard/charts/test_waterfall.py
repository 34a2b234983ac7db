"""The waterfall: its steps add up as shown, and prices and recipe differ by more than colour."""

from __future__ import annotations

import itertools
from datetime import date
from decimal import Decimal
from typing import Any

import pandas as pd
import pytest

from dashboard.charts.waterfall import waterfall_chart
from dashboard.tables.then_and_now import (
    waterfall_steps,
)
from dashboard.words.states import PRICE, RECIPE, TOTAL
from pricing.book.connect import Book, reading
from pricing.change.compare import compare
from pricing.change.records import Comparison
from tests.kitchen import TODAY

JUNE = date(2026, 6, 15)


def test_the_steps_lead_from_then_to_now(bowl: Comparison) -> None:
    steps = waterfall_steps(bowl)
    # leek 150 × 0.001 = 0.15 and barley 100 × 0.001 = 0.10 by prices, together 0.25;
    # leek (100 − 150) × 0.003 = −0.15 by the recipe
    assert steps[["step", "kind", "shown"]].values.tolist() == [
        ["Then, 15 June 2026", TOTAL, "$0.40"],
        ["leek dearer", PRICE, "+$0.15"],
        ["pearl barley dearer", PRICE, "+$0.10"],
        ["less leek", RECIPE, "−$0.15"],
        ["Now, 24 November 2026", TOTAL, "$0.50"],
    ]
    assert list(steps["start"]) == pytest.approx([0.0, 0.40, 0.55, 0.65, 0.0])
    assert list(steps["end"]) == pytest.approx([0.40, 0.55, 0.65, 0.50, 0.50])
    assert steps["said"][1] == "leek dearer: +$0.15 by prices"


def test_the_steps_add_up_as_shown_whatever_the_days(kitchen: Book) -> None:
    days = [JUNE, date(2026, 8, 1), date(2026, 11, 1), TODAY]
    dishes = ("barley bowl", "barley supper", "saffron barley")
    with reading(kitchen):  # opened once for all
        for dish, then, now in itertools.product(dishes, days, days):
            steps = waterfall_steps(compare(kitchen, dish, then=then, now=now))
            shown = [Decimal(words.replace("$", "").replace("−", "-")) for words in steps["shown"]]
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
    bars, stripes = of_kind(spec, "bar")
    assert [row["step"] for row in data_of(spec, stripes)] == ["less leek"]
    # along the whole of the bar, so that a short one is striped, too
    for channel in ("x", "x2", "y"):
        assert stripes["encoding"][channel]["field"] == bars["encoding"][channel]["field"]
    assert stripes["mark"]["height"] < bars["mark"]["height"] / 2


def test_every_bar_says_in_words_what_it_is(bowl: Comparison) -> None:
    spec = drawn(waterfall_steps(bowl))
    texts = [each for each in of_kind(spec, "text") if "condition" in each["encoding"]["text"]]
    words = [row["words"] for row in data_of(spec, texts[0])]
    assert words == ["$0.40", "+$0.15 by prices", "+$0.10 by prices", "−$0.15 by the recipe",
                     "$0.50"]  # fmt: skip
    bars, _ = of_kind(spec, "bar")
    assert bars["encoding"]["description"]["field"] == "said"
    assert spec["usermeta"]["embedOptions"]["renderer"] == "svg"


def test_the_steps_stand_from_the_top_and_each_name_above_its_bar(bowl: Comparison) -> None:
    long = waterfall_steps(bowl).replace("less leek", "4 portions to the batch instead of 12")
    spec = drawn(long)
    bars, _ = of_kind(spec, "bar")
    assert bars["encoding"]["y"]["axis"] is None  # no width is lost to names
    names = [each for each in of_kind(spec, "text") if each["encoding"]["text"]["field"] == "step"]
    assert all(each["mark"]["dy"] < -bars["mark"]["height"] / 2 for each in names)
    assert len(names) == 2  # a rim, and the words
    assert bars["encoding"]["y"]["sort"] == [
        "Then, 15 June 2026", "leek dearer", "pearl barley dearer",
        "4 portions to the batch instead of 12", "Now, 24 November 2026",
    ]  # fmt: skip


def test_a_dish_that_did_not_change_has_two_bars(kitchen: Book) -> None:
    steps = waterfall_steps(compare(kitchen, "barley bowl", then=TODAY, now=TODAY))
    assert list(steps["kind"]) == [TOTAL, TOTAL]
    assert len(of_kind(drawn(steps), "bar")) == 1  # no stripes
