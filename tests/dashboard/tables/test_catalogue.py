"""The rows of the catalogue: figures that are only at least."""

from __future__ import annotations

from dashboard.tables.catalogue import catalogue_rows, chosen, in_words
from pricing.book.connect import Book
from pricing.change.overview import then_and_now
from tests.kitchen import TODAY


def test_the_catalogue_says_at_least_where_a_price_is_missing(kitchen: Book) -> None:
    dishes = chosen(then_and_now(kitchen, on=TODAY), currency="USD")
    shown = in_words(catalogue_rows(dishes, {}, "USD"), dishes, "USD")
    at_least = shown[shown["Now"].str.startswith("≥")]
    assert list(at_least["Now"]) == ["≥ \\$0.20"]
    assert "+\\$0.10" in list(shown["Change"])
    assert "+25 %" in list(shown["in %"])
