"""An edible amount: the yield of the line goes before that of the ingredient."""

from __future__ import annotations

from datetime import date

import pytest

import pricing
from pricing.book.connect import Book
from tests.kitchen import make_book

FILES = {
    "ingredients": "ingredient,base,yield_pct\nleek,g,50",
    "prices": "ingredient,date,price,currency,pack\nleek,2020-01-10,10.00,USD,1 kg",
    # 100 g edible: at the line's 80 % 125 g bought, 1.25; at the ingredient's 50 % 200 g, 2.00; and
    # a yield beside an amount as purchased changes nothing, 1.00
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit,state,yield_pct
        a,1,2019-01-01,1,leek,100,g,edible,80
        b,1,2019-01-01,1,leek,100,g,edible,
        c,1,2019-01-01,1,leek,100,g,,80
    """,
}
COSTS = {"a": 1.25, "b": 2.00, "c": 1.00}


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return make_book(tmp_path_factory.mktemp("yield"), FILES, series=())


def test_one_dish(book: Book) -> None:
    found = {dish: pricing.cost_dish(book, dish, on=date(2020, 1, 15)) for dish in COSTS}
    assert {dish: cost.cost_per_portion for dish, cost in found.items()} == pytest.approx(COSTS)
    assert [found[dish].lines[0].as_purchased for dish in "abc"] == pytest.approx([125, 200, 100])


def test_all_dishes_at_once(book: Book) -> None:
    found = pricing.drift_points(book, start="2020-01", end="2020-01")
    costs = {each.dish: each.points[0].cost_per_portion for each in found.dishes}
    assert costs == pytest.approx(COSTS)
