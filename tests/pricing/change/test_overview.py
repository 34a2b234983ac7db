"""The whole catalogue then and now, against one dish at a time and a pencil."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from pricing.book.connect import Book
from pricing.change.compare import compare
from pricing.change.overview import then_and_now
from pricing.dishes.cost import cost_dish
from pricing.errors import DateRefused
from tests.dashboard.small_kitchen import small_kitchen
from tests.kitchen import TODAY, make_book


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return small_kitchen(tmp_path_factory.mktemp("overview"))


def test_a_dish_is_taken_from_its_first_printed_figure(book: Book) -> None:
    bowl = then_and_now(book, on=TODAY)[0]
    assert (bowl.dish, bowl.versions) == ("barley bowl", 2)
    assert (bowl.then_on, bowl.then_version, bowl.now_version) == (date(2026, 6, 15), "1", "2")
    assert bowl.printed is not None
    assert bowl.printed.cost_per_portion == 0.40
    # the pencil sums of small_kitchen
    assert (bowl.cost_then, bowl.cost_moved, bowl.cost_now) == pytest.approx((0.40, 0.65, 0.50))
    assert (bowl.price_effect, bowl.recipe_effect) == pytest.approx((0.25, -0.15))
    assert bowl.change == pytest.approx(0.10)
    assert (bowl.complete, bowl.share_bridged) == (True, 0.0)


def test_a_dish_never_printed_is_taken_from_its_first_version(book: Book) -> None:
    saffron = then_and_now(book, on=TODAY)[2]
    assert saffron.printed is None
    assert saffron.then_on == date(2026, 6, 1)
    assert (saffron.complete, saffron.left_out) == (False, ("saffron",))
    assert saffron.cost_now == pytest.approx(0.20)


def test_all_at_once_is_the_same_as_one_by_one(book: Book) -> None:
    for row in then_and_now(book, on=TODAY):
        alone = compare(book, row.dish, then=(row.then_on, row.then_version), now=TODAY)
        assert row.change == pytest.approx(alone.change, abs=1e-12)
        assert row.price_effect == pytest.approx(alone.price_effect, abs=1e-12)
        assert row.recipe_effect == pytest.approx(alone.recipe_effect, abs=1e-12)
        cost = alone.corners
        assert (row.cost_then, row.cost_moved, row.cost_now) == pytest.approx(
            (cost.then_recipe_then, cost.then_recipe_now, cost.now_recipe_now), abs=1e-12
        )
        now = cost_dish(book, row.dish, on=TODAY)
        assert (row.cost_now, row.complete) == (pytest.approx(now.cost_per_portion), now.complete)


def test_a_figure_printed_later_than_the_date_does_not_count(book: Book) -> None:
    bowl = then_and_now(book, on=date(2026, 6, 12))[0]
    assert (bowl.printed, bowl.then_on) == (None, date(2026, 6, 1))


def test_a_later_date_is_refused(book: Book) -> None:
    with pytest.raises(DateRefused, match="after today"):
        then_and_now(book, on=date(2026, 11, 25))


def test_an_empty_book_has_no_dishes(tmp_path: Path) -> None:
    assert then_and_now(make_book(tmp_path, name="empty.duckdb"), on=TODAY) == []
