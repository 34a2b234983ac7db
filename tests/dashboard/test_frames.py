"""Frames for the charts: which months, figures and words they hold."""

from __future__ import annotations

from datetime import date

import pandas as pd
import pytest

from dashboard import frames
from dashboard.catalogue_table import catalogue_rows, chosen, in_words
from dashboard.charts.price_of_ingredient import TYPICAL_MOVED, TYPICAL_SEEN
from dashboard.page_text import link, plain
from pricing.book.connect import Book
from pricing.change.overview import then_and_now
from pricing.contents.choices import ListedVersion
from pricing.contents.printed import list_claims
from pricing.dishes.drift import drift_points
from pricing.prices.history import price_history
from tests.kitchen import TODAY


def test_a_drift_is_dated_on_the_15th_and_said_in_words(kitchen: Book) -> None:
    found = drift_points(kitchen, ["saffron barley"], start="2026-06", end="2026-11")
    first = frames.drift_frame(found).iloc[0]
    assert first["on"] == pd.Timestamp("2026-06-15")
    assert first["day"] == "15 June 2026"
    assert first["shown"] == "at least $0.10"  # 200 g at $1.00 a kg, for two
    assert first["evidence"] == "all from prices seen; a price is missing"


@pytest.mark.parametrize(
    ("share", "words"),
    [
        (0.0, "all from prices seen"),
        (0.001, "nearly all from prices seen, a little moved by an official index"),
        (0.31, "69 % from prices seen, 31 % moved by an official index"),
        (0.999, "nearly all moved by an official index, a little from prices seen"),
        (1.0, "all moved by an official index"),
        (None, "nothing has a price"),
    ],
)
def test_evidence_of_a_figure_in_words(share: float | None, words: str) -> None:
    assert frames.evidence_share(share, True) == words


def test_printed_figures_of_another_currency_are_left_out(kitchen: Book) -> None:
    claims = list_claims(kitchen)
    assert list(frames.printed_frame(claims, "USD")["label"]) == ["printed $0.40"]
    assert frames.printed_frame(claims, "GBP").empty


def test_versions_are_marked_where_they_came_into_force() -> None:
    versions = [
        ListedVersion(version=label, effective_from=day, portions=4.0)
        for label, day in (("1", date(2012, 1, 1)), ("2", date(2018, 3, 1)))
    ]
    marks = frames.versions_frame(versions, date(2012, 1, 15), date(2026, 1, 1))
    # the first one stands where the line begins
    assert list(zip(marks["on"].dt.date, marks["label"], strict=True)) == [
        (date(2012, 1, 15), "version 1"), (date(2018, 3, 1), "version 2"),
    ]  # fmt: skip
    # a figure printed before the first version came into force is costed in it
    early = frames.versions_frame(versions, date(2011, 6, 15), date(2026, 1, 1))
    assert list(early["label"]) == ["version 1", "version 2"]
    # one version throughout: there is nothing to tell apart
    assert frames.versions_frame(versions, date(2019, 1, 1), date(2026, 1, 1)).empty


def test_prices_are_shown_per_unit_of_the_book(kitchen: Book) -> None:
    history = price_history(kitchen, "leek", on=TODAY)
    us, metric = (frames.seen_frame(history, system) for system in ("us", "metric"))
    assert list(metric["price"]) == pytest.approx([2.40, 3.00, 2.00])  # newest first, a kg
    assert list(us["price"] / metric["price"]) == pytest.approx([0.45359237] * 3)  # a lb, exact
    assert list(us["offer"]) == [True, False, False]


def test_typical_prices_say_whether_an_index_moved_them(kitchen: Book) -> None:
    frame = frames.typical_frame(price_history(kitchen, "butter", on=TODAY), "metric")
    assert frame.iloc[0]["state"] == TYPICAL_SEEN
    assert frame.iloc[0]["price"] == pytest.approx(4.0)  # $2.00 for 500 g
    assert frame.iloc[-1]["state"] == TYPICAL_MOVED


def test_the_catalogue_says_at_least_where_a_price_is_missing(kitchen: Book) -> None:
    dishes = chosen(then_and_now(kitchen, on=TODAY))
    html = in_words(catalogue_rows(dishes, {}, "USD"), dishes, "USD").to_html()
    assert html.count("≥ $0.20") == 1
    assert "+$0.10" in html
    assert "+25 %" in html


def test_plain_words_stay_plain_on_a_page() -> None:
    assert plain("*_$[]<>~#|") == r"\*\_\$\[\]\<\>\~\#\|"
    assert plain("run `a_b $c`") == "run `a_b $c`"
    assert plain("a ` stray mark") == "a ' stray mark"


def test_a_link_carries_any_name() -> None:
    made = link("fish & chips", "prices", ingredient="fish & chips?")
    assert made == "[fish & chips](prices?ingredient=fish%20%26%20chips%3F)"
