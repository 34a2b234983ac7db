"""Prices of an ingredient for its chart: per unit of the book, and whether a series moved them."""

from __future__ import annotations

import pytest

from dashboard.tables.prices import seen_frame, typical_frame
from dashboard.words.states import TYPICAL_MOVED, TYPICAL_SEEN
from pricing.book.connect import Book
from pricing.prices.history import price_history
from tests.kitchen import TODAY


def test_prices_are_shown_per_unit_of_the_book(kitchen: Book) -> None:
    history = price_history(kitchen, "leek", on=TODAY)
    us, metric = (seen_frame(history, system) for system in ("us", "metric"))
    assert list(metric["price"]) == pytest.approx([2.40, 3.00, 2.00])  # newest first, a kg
    assert list(us["price"] / metric["price"]) == pytest.approx([0.45359237] * 3)  # a lb, exact
    assert list(us["offer"]) == [True, False, False]


def test_typical_prices_say_whether_an_index_moved_them(kitchen: Book) -> None:
    frame = typical_frame(price_history(kitchen, "butter", on=TODAY), "metric")
    assert frame.iloc[0]["state"] == TYPICAL_SEEN
    assert frame.iloc[0]["price"] == pytest.approx(4.0)  # $2.00 for 500 g
    assert frame.iloc[-1]["state"] == TYPICAL_MOVED
