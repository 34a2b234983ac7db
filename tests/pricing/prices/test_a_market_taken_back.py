"""A market whose prices were all taken back is as one in which nothing was ever seen."""

from __future__ import annotations

import pytest

import pricing
from ingest.load import undo
from pricing.book.connect import Book
from pricing.book.keeping.check import check
from tests.kitchen import load, make_book

FILES = {
    "ingredients": "ingredient,base\nrice,g",
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        bowl,1,2020-01-01,1,rice,100,g
    """,
}
# 2.00 a kg: a bowl of 100 g costs 0.20, at whatever date, as the index stands still.
PRICE = "ingredient,date,price,currency,pack,kind\nrice,2026-06-01,2.00,USD,1 kg,{}"
FOOD = "series,month,value\nown:food,2020-01,100\n" + "\n".join(
    f"own:food,2026-{month:02},100" for month in range(1, 11)
)


@pytest.fixture(scope="module", params=["shelf", "invoice"])
def book(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Book:
    """A book in which the prices of one market were taken back and that of the other is kept."""
    kept = request.param
    book = make_book(tmp_path_factory.mktemp(kept), FILES, series=())
    series = "ingredient,base,series\nrice,g,own:food"
    for kind, text in (("index", FOOD), ("ingredients", series)):
        assert load(book, kind, text, replace=True).problems == ()
    wrong = {"shelf": "invoice", "invoice": "shelf"}[kept]
    taken_back = load(book, "prices", PRICE.format(wrong)).load
    assert load(book, "prices", PRICE.format(kept)).added == 1
    assert taken_back is not None
    undo(book, taken_back)
    return book


@pytest.mark.parametrize("asked", ["shop", "trade", "any"])
@pytest.mark.parametrize("on", ["2026-02-01", "2026-06-20"])
def test_it_hides_no_price_of_the_other(book: Book, asked: str, on: str) -> None:
    found = pricing.cost_dish(book, "bowl", on=on, market=asked)
    assert found.cost_per_portion == pytest.approx(0.20)  # the index stood still
    assert found.complete


def test_the_book_is_sound(book: Book) -> None:
    assert check(book).problems == ()
