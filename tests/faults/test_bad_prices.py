"""Each thing that can be wrong with a price gets its own sentence, and the price is not stored."""

from __future__ import annotations

import pytest

from ingest.load import add_price
from pricing.book.connect import Book
from pricing.errors import Problem
from tests.kitchen import TODAY, load
from tests.loading import ask, only, places

GOOD = {
    "ingredient": "leek",
    "date": "2024-05-02",
    "price": "1.89",
    "currency": "USD",
    "pack": "500 g",
}


def refused(book: Book, **changed: str) -> Problem:
    """Return the one problem, which a file and a price by hand share but for the line."""
    cells = {**GOOD, **changed}
    row = ",".join(f'"{cell}"' for cell in cells.values())
    from_file = only(load(book, "prices", f"{','.join(cells)}\n{row}"))
    by_hand = only(add_price(book, cells, today=TODAY))
    assert (from_file.line, by_hand.line) == (2, None)
    assert from_file.sentence().split(": ", 1)[1] == by_hand.sentence().split(": ", 1)[1]
    assert ask(book, "SELECT count(*) FROM observation") == [(0,)]
    return from_file


def test_an_unknown_ingredient_with_the_nearest_names(book: Book) -> None:
    problem = refused(book, ingredient="leak")
    assert (problem.column, problem.found) == ("ingredient", "'leak'")
    assert problem.remedy.startswith("Nearest: leek, leeks. ")


def test_an_unknown_ingredient_that_looks_like_none(book: Book) -> None:
    assert refused(book, ingredient="zzz").remedy == (
        "Correct the name, or load the ingredient first."
    )


@pytest.mark.parametrize("pack", ["500 gx", "500", "half a pound", "1 flagon", "0 g", "-1 kg"])
def test_a_pack_that_cannot_be_read(book: Book, pack: str) -> None:
    assert refused(book, pack=pack).column == "pack"


@pytest.mark.parametrize(
    ("ingredient", "pack", "fact"),
    [
        ("pearl barley", "2 l", "density_g_per_ml"),  # by g, sold by volume
        ("pearl barley", "3 each", "grams_each"),
        ("syrup", "1 lb", "density_g_per_ml"),  # by ml, sold by weight
        ("egg", "1 pint", "density_g_per_ml"),
    ],
)
def test_a_pack_that_cannot_be_converted_names_the_missing_fact(
    book: Book, ingredient: str, pack: str, fact: str
) -> None:
    problem = refused(book, ingredient=ingredient, pack=pack)
    assert problem.column == "pack"
    assert fact in problem.expected
    assert ingredient in problem.remedy


@pytest.mark.parametrize(
    ("price", "remedy"),
    [
        ("0", "Correct the number."),
        ("0.0000", "Correct the number."),
        ("-1.89", "minus sign"),
        ("1,50", "decimal comma; write 1.50"),
        ("1,234.50", "marks between thousands"),
        ("1 234.50", "marks between thousands"),
        ("$1.89", "a currency or a unit has a column of its own"),
        ("1.89 USD", "a currency or a unit has a column of its own"),
        ("1e3", "without an exponent"),
        ("nan", "the number alone"),
        ("١٫٥", "digits, with a point"),
        ("1.", "digits, with a point"),
    ],
)
def test_a_price_that_is_no_amount_over_nothing(book: Book, price: str, remedy: str) -> None:
    problem = refused(book, price=price)
    assert problem.column == "price"
    assert problem.expected == "a number over 0, written like 1.5"
    assert remedy in problem.remedy


def test_a_price_with_five_decimals_is_not_rounded(book: Book) -> None:
    problem = refused(book, price="1.23456")
    assert problem.found == "'1.23456', which has 5 decimals"
    assert problem.expected == "at most 4 decimals"


def test_a_price_of_fifteen_digits(book: Book) -> None:
    assert refused(book, price="123456789012345").expected == ("at most 14 digits before the point")


def test_a_day_that_does_not_exist(book: Book) -> None:
    problem = refused(book, date="2026-02-30")
    assert (problem.column, problem.remedy) == ("date", "That day does not exist.")


@pytest.mark.parametrize("date", ["12/11/2026", "12.11.2026", "2026/11/12", "12-11-2026"])
def test_a_date_in_another_order_is_not_guessed(book: Book, date: str) -> None:
    problem = refused(book, date=date)
    assert problem.expected == "a date such as 2026-11-24"
    assert "not guessed" in problem.remedy


@pytest.mark.parametrize("date", ["20261112", "2026-11-12T10:00", "yesterday", "2026-1-2"])
def test_a_date_in_another_form(book: Book, date: str) -> None:
    assert refused(book, date=date).expected == "a date such as 2026-11-24"


def test_a_date_in_the_future(book: Book) -> None:
    problem = refused(book, date="2026-11-25")
    assert problem.found == "2026-11-25, which is in the future"
    assert problem.expected == "a date up to today, 2026-11-24"


@pytest.mark.parametrize("currency", ["USB", "$", "dollars", "US"])
def test_a_currency_that_iso_4217_does_not_list(book: Book, currency: str) -> None:
    problem = refused(book, currency=currency)
    assert problem.column == "currency"
    assert problem.expected == "an ISO 4217 currency code such as USD, GBP or EUR"


def test_an_unknown_kind_of_price(book: Book) -> None:
    problem = refused(book, kind="bargain")
    assert problem.expected == "one of shelf, offer, receipt, invoice, quote"


@pytest.mark.parametrize("tax", ["-1", "101", "7.25%", "7,25"])
def test_a_tax_outside_0_to_100(book: Book, tax: str) -> None:
    problem = refused(book, tax_pct=tax)
    assert problem.expected == "a percentage from 0 to 100, written like 1.5"


@pytest.mark.parametrize("column", list(GOOD))
def test_an_empty_cell_in_a_required_column(book: Book, column: str) -> None:
    problem = refused(book, **{column: ""})
    assert (problem.column, problem.found) == (column, "an empty cell")


def test_all_problems_of_all_rows_at_once(book: Book) -> None:
    report = load(
        book,
        "prices",
        """
        ingredient,date,price,currency,pack
        leek,2024-05-02,1.89,USD,500 g
        leak,2026-02-30,"1,50",usx,1 flagon
        leek,2027-01-01,0,USD,1 each each
        leek,2024-05-02,2.19
        pearl barley,2024-05-02,2.19,USD,1 pint
        """,
    )
    assert places(report) == [
        (3, "ingredient"),
        (3, "date"),
        (3, "price"),
        (3, "currency"),
        (4, "date"),
        (4, "price"),
        (4, "pack"),
        (5, None),
        (6, "pack"),
    ]
    assert ask(book, "SELECT count(*) FROM observation") == [(0,)]


def test_the_line_is_the_physical_one_on_which_the_row_starts(book: Book) -> None:
    report = load(
        book,
        "prices",
        "ingredient,date,price,currency,pack,note\n\n"
        'leek,2024-05-02,1.89,USD,500 g,"two\nlines"\n'
        "leek,2024-05-02,0,USD,500 g,",
    )
    assert places(report) == [(5, "price")]
