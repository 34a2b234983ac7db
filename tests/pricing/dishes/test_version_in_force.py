"""A version is in force from its day on: on that very day, and not on the day before."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import pricing
from pricing.book.connect import Book
from tests.kitchen import make_book

# sauce 10 g of butter a portion, then 30 g; the pie takes a portion of it and 100 g of flour. Flour
# 0.001, butter 0.010: pie 0.10 + 0.10 = 0.20, then 0.10 + 0.30 = 0.40; sauce 0.10, then 0.30. The
# pie itself is reworked a month later: 200 g of flour, 0.50
FILES = {
    "ingredients": "ingredient,base\nflour,g\nbutter,g",
    "prices": """
        ingredient,date,price,currency,pack
        flour,2020-01-10,1.00,USD,1 kg
        butter,2020-01-10,10.00,USD,1 kg
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        sauce,old,2019-01-01,1,butter,10,g
        sauce,new,2020-02-15,1,butter,30,g
        pie,old,2019-01-01,1,flour,100,g
        pie,old,2019-01-01,1,dish:sauce,1,portion
        pie,new,2020-03-15,1,flour,200,g
        pie,new,2020-03-15,1,dish:sauce,1,portion
    """,
}


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return make_book(tmp_path_factory.mktemp("versions"), FILES, series=())  # prices stand still


@pytest.mark.parametrize(
    ("on", "sauce", "pie", "version"),
    [
        ("2020-02-14", 0.10, 0.20, "old"),
        ("2020-02-15", 0.30, 0.40, "old"),  # the sauce inside is the new one from today
        ("2020-03-14", 0.30, 0.40, "old"),
        ("2020-03-15", 0.30, 0.50, "new"),
    ],
)
def test_one_dish(book: Book, on: str, sauce: float, pie: float, version: str) -> None:
    day = date.fromisoformat(on)
    found = pricing.cost_dish(book, "pie", on=day)
    assert found.cost_per_portion == pytest.approx(pie, abs=1e-12)
    assert (found.version, found.version_in_force) == (version, True)
    assert pricing.cost_dish(book, "sauce", on=day).cost_per_portion == pytest.approx(sauce)


def test_month_by_month(book: Book) -> None:
    # asked about on the 15th, the day on which each new version begins
    found = pricing.drift_points(book, ["pie", "sauce"], start="2020-01", end="2020-03")
    costs = {dish.dish: [point.cost_per_portion for point in dish.points] for dish in found.dishes}
    assert costs["sauce"] == pytest.approx([0.10, 0.30, 0.30], abs=1e-12)
    assert costs["pie"] == pytest.approx([0.20, 0.40, 0.50], abs=1e-12)


def test_over_all_dishes_between_two_days(book: Book) -> None:
    found = pricing.rank_drivers(book, ["pie"], then=date(2020, 3, 14), now=date(2020, 3, 15))
    assert (found.mean_then, found.mean_now) == (pytest.approx(0.40), pytest.approx(0.50))
    inside = pricing.rank_drivers(book, ["pie"], then=date(2020, 2, 14), now=date(2020, 2, 15))
    assert (inside.mean_then, inside.mean_now) == (pytest.approx(0.20), pytest.approx(0.40))


def test_then_and_now(book: Book) -> None:
    found = pricing.compare(book, "pie", then=date(2020, 3, 14), now=date(2020, 3, 15))
    assert (found.then.version, found.now.version) == ("old", "new")
    assert found.recipe_effect == pytest.approx(0.10)
    assert (found.then.version_in_force, found.now.version_in_force) == (True, True)


def test_a_version_named_by_a_number_is_the_one_so_labelled(tmp_path: Path) -> None:
    files = {
        "ingredients": "ingredient,base\nrice,g",
        "dishes": "dish,version,effective_from,portions,ingredient,quantity,unit\n"
        "bowl,1,2020-01-01,1,rice,100,g\nbowl,2,2021-01-01,1,rice,200,g",
    }
    book = make_book(tmp_path, files, series=())
    found = pricing.cost_dish(book, "bowl", on="2026-11-01", version=1)  # type: ignore[arg-type]
    assert found.lines[0].as_purchased == 100
