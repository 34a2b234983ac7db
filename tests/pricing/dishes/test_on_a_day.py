"""Many dishes on a day: a dish named twice counts once, and no day after today is held against."""

from __future__ import annotations

from datetime import date

import pytest

import pricing
from pricing.book.connect import Book
from pricing.errors import DateRefused
from tests.kitchen import TODAY, make_book
from tests.terminal import answer

# Rice at 2.00 a kg: a bowl of 100 g costs 0.20, a plate of 300 g 0.60.
KITCHEN = {
    "ingredients": "ingredient,base\nrice,g",
    "prices": "ingredient,date,price,currency,pack\nrice,2026-11-10,2.00,USD,1 kg",
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        bowl,1,2026-01-01,1,rice,100,g
        plate,1,2026-01-01,1,rice,300,g
    """,
}


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return make_book(tmp_path_factory.mktemp("on a day"), KITCHEN, series=())


@pytest.mark.parametrize("named", [["bowl", "bowl"], ["plate", "Bowl", "bowl", "PLATE"]])
def test_a_dish_named_twice_is_told_once(named: list[str], book: Book) -> None:
    found = pricing.cost_dishes(book, named, on=TODAY)
    costs = {"bowl": 0.20, "plate": 0.60}
    assert [each.dish for each in found.dishes] == list(dict.fromkeys(map(str.lower, named)))
    assert [each.cost_per_portion for each in found.dishes] == [
        pytest.approx(costs[each.dish]) for each in found.dishes
    ]
    told = answer("cost", *named, "--json", book=book.path)
    assert len(told["dishes"]) == len(found.dishes)


def test_a_dish_is_not_held_against_a_day_to_come(book: Book) -> None:
    with pytest.raises(DateRefused, match="25 November 2026, which is after today"):
        pricing.cost_dishes(book, on=TODAY, since=date(2026, 11, 25))
    said = answer("cost", "--since", "2026-11-25", "--json", book=book.path, status=2)
    assert "which is after today" in said["error"]
