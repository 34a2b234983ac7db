"""Frames for the drift chart of a dish: which months, figures and words they hold."""

from __future__ import annotations

from datetime import date

import pandas as pd

from dashboard.tables.dish import drift_frame, printed_frame, versions_frame, with_day
from pricing.book.connect import Book
from pricing.contents.choices import ListedVersion
from pricing.contents.printed import list_printed
from pricing.dishes.cost import cost_dish
from pricing.dishes.drift import drift_points
from tests.dashboard.small_kitchen import NOW
from tests.kitchen import TODAY


def test_a_drift_is_dated_on_the_15th_and_said_in_words(kitchen: Book) -> None:
    found = drift_points(kitchen, ["saffron barley"], start="2026-06", end="2026-11")
    first = drift_frame(found).iloc[0]
    assert first["on"] == pd.Timestamp("2026-06-15")
    assert first["day"] == "15 June 2026"
    assert first["shown"] == "at least $0.10"  # 200 g at $1.00 a kg, for two
    assert first["evidence"] == "all from prices seen; a price is missing"


def test_printed_figures_of_another_currency_are_left_out(kitchen: Book) -> None:
    figures = list_printed(kitchen)
    assert list(printed_frame(figures, "USD", TODAY)["label"]) == ["printed $0.40"]
    assert printed_frame(figures, "GBP", TODAY).empty


def test_versions_are_marked_where_they_came_into_force() -> None:
    versions = [
        ListedVersion(version=label, effective_from=day, portions=4.0, target=None)
        for label, day in (("1", date(2012, 1, 1)), ("2", date(2018, 3, 1)))
    ]
    marks = versions_frame(versions, date(2012, 1, 15), date(2026, 1, 1))
    # the first one stands where the line begins
    assert list(zip(marks["on"].dt.date, marks["label"], strict=True)) == [
        (date(2012, 1, 15), "version 1"), (date(2018, 3, 1), "version 2"),
    ]  # fmt: skip
    # a figure printed before the first version came into force is costed in it
    early = versions_frame(versions, date(2011, 6, 15), date(2026, 1, 1))
    assert list(early["label"]) == ["version 1", "version 2"]
    # one version throughout: there is nothing to tell apart
    assert versions_frame(versions, date(2019, 1, 1), date(2026, 1, 1)).empty


def test_the_figure_of_the_day_is_the_last_point_of_the_drift(kitchen: Book) -> None:
    found = drift_points(kitchen, ["barley bowl"], start="2026-06", end="2026-11")
    points = with_day(drift_frame(found), cost_dish(kitchen, "barley bowl", on=TODAY))
    assert list(points["on"].iloc[-2:].dt.date) == [date(2026, 11, 15), TODAY]
    assert points["shown"].iloc[-1] == NOW
    on_the_15th = cost_dish(kitchen, "barley bowl", on=date(2026, 11, 15))
    assert len(with_day(drift_frame(found), on_the_15th)) == len(points) - 1  # not twice
