"""A costing says whose prices count (market, suppliers), and the day of the recipes inside it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from dashboard.words.dish import change_words
from dashboard.words.prices import series_words
from pricing.book.connect import Book
from pricing.change.compare import compare
from pricing.prices.history import price_history
from tests.kitchen import make_book
from tests.terminal import run

# Haddock was last seen in a shop more than a year before the invoice, so trade counts.
KITCHEN = {
    "ingredients": "ingredient,base\nhaddock,g\nleek,g",
    "prices": """
        ingredient,date,price,currency,pack,supplier,kind
        haddock,2025-05-05,15.00,GBP,1 kg,Quay,shelf
        haddock,2026-10-20,12.00,GBP,1 kg,Mill Trade,invoice
        leek,2026-11-10,3.00,GBP,1 kg,Quay,shelf
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        stock,1,2026-01-01,1,leek,100,g
        pie,1,2026-01-01,1,haddock,100,g
        pie,1,2026-01-01,1,dish:stock,1,batch
        pie,2,2026-06-01,1,haddock,100,g
    """,
}
ON = ("--on", "2026-11-24")


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("market")
    return make_book(folder, KITCHEN, currency="GBP", series=()).path


def said(book: Path, *arguments: str) -> str:
    """Return what a command says, its lines and cells run together."""
    return " ".join(run(*arguments, book=book).stdout.split())


def test_a_price_of_the_other_market_is_told_and_one_of_the_market_asked_for_is_not(
    book: Path,
) -> None:
    assert "seen 35 days ago at Mill Trade; a trade price" in said(book, "prices", "haddock")
    costed = said(book, "cost", "pie", *ON)
    assert "a trade" in costed
    assert "a shop price" not in costed
    assert (
        "a trade" not in said(book, "cost", "pie", *ON, "--market", "trade").split("Ingredient")[1]
    )
    assert "a trade" not in said(book, "cost", "pie", *ON, "--supplier", "Mill Trade")


def test_the_suppliers_that_count_or_do_not_stand_beside_the_day(book: Path) -> None:
    only = said(book, "cost", "pie", *ON, "--supplier", "Mill Trade")
    assert "at prices of 24 November 2026 (only those of Mill Trade)" in only
    without = said(book, "cost", "pie", *ON, "--not-supplier", "Quay")
    assert "at prices of 24 November 2026 (without those of Quay)" in without
    many = said(book, "cost", *ON, "--not-supplier", "Quay", "--market", "trade")
    assert "(without those of Quay) (trade prices: invoices and quotes), per portion" in many


def test_a_price_missing_since_its_only_shop_is_left_out_gives_that_reason(book: Path) -> None:
    found = said(book, "cost", "stock", *ON, "--not-supplier", "Quay")
    assert "No price of leek can be used on 24 November 2026 without those of Quay." in found


def test_an_old_version_names_the_recipe_day_asked_for(book: Path) -> None:
    named = said(book, "cost", "pie", *ON, "--version", "1", "--recipe-day", "2026-11-24")
    assert "with the recipes inside it of 24 November 2026" in named


def test_a_price_of_the_day_of_an_old_costing_is_not_of_today(book: Path) -> None:
    assert "seen that day at Quay" in said(book, "cost", "stock", "--on", "2026-11-10")


def test_kitchen_inflation_says_whose_prices_it_takes_where_the_market_would_change(
    book: Path,
) -> None:
    # by the rule a shop price in January, a trade price in November: the shop's counts in both
    found = said(book, "inflation", "--from", "2026-01", "--to", "2026-11", "pie")
    assert "So that all months compare: haddock at shop prices in all months." in found


def test_then_and_now_of_a_dish_says_whose_prices_it_compares(book: Path) -> None:
    # the costing of the day takes the trade price (1.20), the comparison a shop's for both
    found = compare(Book(path=book), "pie", then=date(2026, 6, 15), now=date(2026, 11, 24))
    assert change_words(found, None).endswith(" haddock is compared at shop prices on both days.")


def test_then_and_now_of_an_old_version_names_its_recipe_day(book: Path) -> None:
    # version 1 was last in force on 31 May 2026, the day before version 2
    found = compare(Book(path=book), "pie", then=date(2026, 3, 1), now=(date(2026, 11, 24), "1"))
    assert "version 1 as printed (recipe day 31 May 2026), £" in change_words(found, None)


def test_an_ingredient_without_a_series_is_moved_by_food_where_the_book_names_it(
    book: Path,
) -> None:
    found = price_history(Book(path=book), "leek", on=date(2026, 11, 24))
    assert "an old price is moved by food as a whole." in series_words(found, "us-bls:SAF11")
    assert "an old price is held as it is." in series_words(found, None)
