"""Many dishes on a day: a dish named twice counts once, and no day after today is held against."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import pricing
from pricing.book.connect import Book
from pricing.errors import DateRefused
from tests.kitchen import TODAY, make_book
from tests.terminal import answer, run

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


# A shop asked 1.00 a kg for the rice in 2020, an invoice of 2026 3.00. A day of 2026 takes the
# invoice, one of 2020 the shop; held against each other both take the shop, as no series moves it.
OTHER_MARKET = KITCHEN | {
    "prices": """
        ingredient,date,price,currency,pack,kind
        rice,2020-01-10,1.00,USD,1 kg,receipt
        rice,2026-11-10,3.00,USD,1 kg,invoice
    """
}


def test_a_day_before_is_compared_in_one_market(tmp_path: Path) -> None:
    other = make_book(tmp_path, OTHER_MARKET, series=())
    then = date(2020, 2, 1)
    (bowl, _) = (found := pricing.cost_dishes(other, on=TODAY, since=then)).dishes
    assert bowl.cost_per_portion == pytest.approx(0.30)  # as `cost bowl` has it: 100 g of 3.00 a kg
    assert bowl.cost_before == pytest.approx(0.10)
    assert bowl.change_pct == pytest.approx(0)
    assert bowl.marked
    (rice,) = found.settled
    assert (rice.ingredient, rice.market_then, rice.market_now) == ("rice", "shop", "shop")
    compared = pricing.compare(other, "bowl", then=then, now=TODAY)
    assert bowl.change_pct == pytest.approx(
        100 * compared.change / compared.corners.then_recipe_then
    )
    said = run("cost", "--since", "2020-02-01", book=other.path).stdout
    assert "rice is compared at shop prices on both days." in " ".join(said.split())


def test_where_the_markets_agree_nothing_is_marked(book: Book) -> None:
    found = pricing.cost_dishes(book, on=TODAY, since=date(2026, 11, 12))
    assert not found.settled
    assert not any(each.marked for each in found.dishes)
    assert [each.change_pct for each in found.dishes] == [pytest.approx(0)] * 2
