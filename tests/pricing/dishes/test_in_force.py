"""A version counts from its very day on, whichever way a dish is costed."""

from __future__ import annotations

from datetime import date

import pytest

import pricing
from pricing.book.connect import Book
from pricing.change.what_if import cost_if
from tests.kitchen import make_book

FILES = {
    "ingredients": "ingredient,base\nleek,g",
    "prices": "ingredient,date,price,currency,pack\nleek,2020-01-01,10.00,USD,1 kg",
    # a portion of soup takes 100 g of leek, 1.00, and from 15 March 2020 on 200 g, 2.00; a pie
    # takes two portions of soup, the whole batch
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        soup,1,2020-02-01,2,leek,200,g
        soup,2,2020-03-15,2,leek,400,g
        pie,1,2019-01-01,1,dish:soup,2,portion
    """,
}
EVE, DAY = date(2020, 3, 14), date(2020, 3, 15)


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return make_book(tmp_path_factory.mktemp("in_force"), FILES, series=())


def test_one_dish_on_the_day_and_on_its_eve(book: Book) -> None:
    eve, day = (pricing.cost_dish(book, "soup", on=each) for each in (EVE, DAY))
    assert (eve.version, eve.cost_per_portion) == ("1", pytest.approx(1.00))
    assert (day.version, day.version_in_force) == ("2", True)
    assert day.cost_per_portion == pytest.approx(2.00)
    # and as a part of another dish
    assert pricing.cost_dish(book, "pie", on=EVE).cost_per_portion == pytest.approx(2.00)
    assert pricing.cost_dish(book, "pie", on=DAY).cost_per_portion == pytest.approx(4.00)


def test_before_any_version_the_first_one_counts_and_is_marked(book: Book) -> None:
    early = pricing.cost_dish(book, "soup", on=date(2020, 1, 20))
    assert (early.version, early.version_in_force) == ("1", False)


def test_month_by_month_on_the_15th(book: Book) -> None:
    soup, pie = pricing.drift_points(book, ["soup", "pie"], start="2020-01", end="2020-03").dishes
    assert [point.version for point in soup.points] == ["1", "1", "2"]
    assert [point.cost_per_portion for point in soup.points] == pytest.approx([1.0, 1.0, 2.0])
    assert [point.cost_per_portion for point in pie.points] == pytest.approx([2.0, 2.0, 4.0])


def test_all_dishes_at_once(book: Book) -> None:
    found = pricing.rank_drivers(book, ["soup", "pie"], then=EVE, now=DAY)
    # the mean of soup and pie: (1.00 + 2.00) ÷ 2, then (2.00 + 4.00) ÷ 2
    assert (found.mean_then, found.mean_now) == (pytest.approx(1.5), pytest.approx(3.0))
    dearer = cost_if(book, ["leek=+10%"], ["soup"], on=DAY)
    assert dearer.dishes[0].change == pytest.approx(0.20)
