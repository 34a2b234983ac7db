"""Dishes that only other dishes take stay out of means, unless they are asked for."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import pricing
from pricing.book.connect import Book
from pricing.change.overview import then_and_now
from pricing.change.what_if import cost_if
from tests.dashboard.views.reading import page, words
from tests.kitchen import make_book
from tests.terminal import answer, run

THEN, NOW = date(2026, 1, 15), date(2026, 6, 15)
# Flour 1.00 then, 1.20 now a kg. A batch of pastry is 400 g of flour: 0.40 → 0.48, 2 portions. The
# pie of two portions takes a batch: 0.20 → 0.24 a portion; the bread, 1 kg for one: 1.00 → 1.20.
KITCHEN = {
    "ingredients": "ingredient,base\nflour,g",
    "prices": """
        ingredient,date,price,currency,pack
        flour,2026-01-10,1.00,USD,1 kg
        flour,2026-06-10,1.20,USD,1 kg
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        pastry,1,2026-01-01,2,flour,400,g
        pie,1,2026-01-01,2,dish:pastry,1,batch
        bread,1,2026-01-01,1,flour,1,kg
    """,
}


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return make_book(tmp_path_factory.mktemp("half"), KITCHEN, series=())


def test_the_mean_of_drivers_is_over_the_two_dishes(book: Book) -> None:
    found = pricing.rank_drivers(book, then=THEN, now=NOW)
    assert (found.dishes, found.half_products) == (2, ("pastry",))
    assert found.mean_then == pytest.approx((0.20 + 1.00) / 2)
    assert found.mean_now == pytest.approx((0.24 + 1.20) / 2)
    named = pricing.rank_drivers(book, ["pastry", "pie", "bread"], then=THEN, now=NOW)
    assert (named.dishes, named.half_products) == (3, ())
    assert named.mean_then == pytest.approx((0.20 + 0.20 + 1.00) / 3)


def test_a_supposed_price_moves_the_mean_of_the_two(book: Book) -> None:
    found = cost_if(book, ["flour=+50%"], on=NOW)
    assert found.mean_if == pytest.approx(1.5 * (0.24 + 1.20) / 2)


def test_the_kitchens_index_is_of_the_two(book: Book) -> None:
    found = pricing.measure_inflation(book, start="2026-01", end="2026-06")
    assert (found.dishes, found.half_products) == (2, ("pastry",))
    assert found.cost_from == pytest.approx((0.20 + 1.00) / 2)
    assert [each.name for each in found.by_dish] == ["bread", "pie"]


@pytest.mark.parametrize(
    "asked",
    [
        ("drivers", "--then", "2026-01-15", "--now", "2026-06-15"),
        ("inflation", "--from", "2026-01", "--to", "2026-06"),
    ],
)
def test_the_terminal_counts_them_when_asked_to(asked: tuple[str, ...], book: Book) -> None:
    without = answer(*asked, "--json", book=book.path)
    assert (without["dishes"], without["half_products"]) == (2, ["pastry"])
    whole = answer(*asked, "--half-products", "--json", book=book.path)
    assert (whole["dishes"], whole["half_products"]) == (3, [])
    said = " ".join(run(*asked, book=book.path).stdout.split())
    assert "Left out, as only other dishes take them: pastry." in said


def test_the_catalogue_page_shows_them_when_asked_to(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    every = then_and_now(book, on=NOW)
    assert {each.dish: each.half_product for each in every} == {
        "bread": False, "pastry": True, "pie": False,
    }  # fmt: skip
    monkeypatch.setenv("PORTIONDRIFT_BOOK", str(book.path))
    app = page("catalogue")
    assert "2 dishes of 3" in words(app)
    app.toggle("half_products").set_value(True).run()
    assert "3 dishes of 3" in words(app)


def test_a_half_product_that_was_printed_is_a_dish(tmp_path: Path) -> None:
    printed = make_book(tmp_path, KITCHEN, series=())
    pricing.record_printed(printed, "pastry", on=NOW)
    assert pricing.rank_drivers(printed, then=THEN, now=NOW).half_products == ()
