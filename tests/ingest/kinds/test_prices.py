"""Prices: which rows are new observations, and which are too far from what the book expects."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ingest.load import FileReport, undo
from pricing.book.connect import Book
from tests.kitchen import load
from tests.loading import ask, only

HEADER = "ingredient,date,price,currency,pack,supplier,kind,tax_pct,region,product,source,note"
ROW = ["leek", "2024-05-02", "1.89", "USD", "500 g", "Harbor Greens", "", "", "", "", "till", ""]


def load_rows(book: Book, *rows: list[str], **options: bool) -> FileReport:
    text = "\n".join([HEADER, *(",".join(row) for row in rows)])
    return load(book, "prices", text, **options)


def changed(**cells: str) -> list[str]:
    return [cells.get(name, held) for name, held in zip(HEADER.split(","), ROW, strict=True)]


def test_a_price_is_stored_as_written_with_its_pack_read(book: Book) -> None:
    report = load_rows(
        book, changed(ingredient="LEEKS", price="1.8900", pack="2 x 250g", tax_pct="2.5")
    )
    assert (report.added, report.problems) == (1, ())
    assert ask(
        book,
        "SELECT i.name, price, currency, pack, pack_amount, pack_dimension, supplier, "
        "supplier_key, kind, tax_pct, o.source "
        "FROM observation_now o JOIN ingredient i USING (ingredient_id)",
    ) == [
        (
            "leek",
            Decimal("1.8900"),
            "USD",
            "2 x 250g",
            Decimal(500),
            "g",
            "Harbor Greens",
            "harbor greens",
            "shelf",
            Decimal("2.5"),
            "till",
        )
    ]
    # 1.89 and 2.5 % tax for 500 g
    assert ask(book, "SELECT unit_price FROM source_day") == [
        (pytest.approx(1.89 * 1.025 / 500, rel=1e-12),)
    ]


@pytest.mark.parametrize(
    "same",
    [
        {},
        {"ingredient": "Leeks"},
        {"price": "1.8900"},
        {"currency": "usd"},
        {"pack": "0.5 kg"},
        {"supplier": "  HARBOR   greens "},
        {"kind": "shelf"},
        {"source": "another till", "note": "seen again"},
    ],
)
def test_a_row_that_agrees_in_what_counts_is_already_in_the_book(
    book: Book, same: dict[str, str]
) -> None:
    load_rows(book, ROW)
    report = load_rows(book, changed(**same))
    assert (report.load, report.added, report.already, report.problems) == (None, 0, 1, ())
    in_one_file = load_rows(book, changed(date="2024-05-03"), changed(date="2024-05-03", **same))
    assert (in_one_file.added, in_one_file.already) == (1, 1)


@pytest.mark.parametrize(
    "other",
    [
        {"date": "2024-05-03"},
        {"price": "1.8901"},
        {"currency": "CAD"},
        {"pack": "501 g"},
        {"pack": "1 bunch"},
        {"supplier": ""},
        {"kind": "receipt"},
        {"tax_pct": "0"},
        {"region": "north"},
        {"product": "baby leek"},
    ],
)
def test_anything_else_is_a_new_observation(book: Book, other: dict[str, str]) -> None:
    load_rows(book, ROW)
    report = load_rows(book, changed(**other))
    assert (report.added, report.already, report.problems) == (1, 0, ())


def test_what_undo_took_out_can_be_loaded_again(book: Book) -> None:
    first = load_rows(book, ROW)
    assert first.load is not None
    assert undo(book, first.load) == 1
    kept = "SELECT (SELECT count(*) FROM source_day), (SELECT count(*) FROM typical_day)"
    assert ask(book, kept) == [(0, 0)]
    assert load_rows(book, ROW).added == 1
    assert ask(book, kept) == [(1, 1)]


# The book expects 4.00 USD for 500 g on 2024-05-12 (seen ten days before): a third is 1.3334,
# rounded up to four decimals; three times is 12. 8.00 a kg × 0.45359237 is 3.6287 a lb (US book).
SEEN = changed(price="4.00", supplier="")


@pytest.mark.parametrize("price", ["1.3334", "4", "12", "12.0000"])
def test_from_a_third_to_three_times_the_expected_price_is_taken(book: Book, price: str) -> None:
    load_rows(book, SEEN)
    assert load_rows(book, changed(price=price, date="2024-05-12")).problems == ()


@pytest.mark.parametrize("price", ["1.3333", "12.0001", "400"])
def test_under_a_third_or_over_three_times_is_refused_with_the_comparison(
    book: Book, price: str
) -> None:
    load_rows(book, SEEN)
    problem = only(load_rows(book, changed(price=price, date="2024-05-12")))
    assert (problem.line, problem.column) == (2, "price")
    shown = price if "." in price else f"{price}.00"
    assert problem.found.startswith(f"{shown} USD for 500 g = $")
    assert problem.expected == (
        "from a third to three times what the book expects on 12 May 2024, about $3.63 per lb"
    )
    assert "--accept-unusual" in problem.remedy


def test_an_unusual_price_is_taken_when_asked_with_a_remark(book: Book) -> None:
    load_rows(book, SEEN)
    report = load_rows(book, changed(price="40", date="2024-05-12"), accept_unusual=True)
    assert (report.added, report.problems) == (1, ())
    assert report.remarks == (
        "1 price under a third or over three times what the book expects, taken as asked.",
    )


def test_the_tax_counts_in_the_comparison(book: Book) -> None:
    load_rows(book, SEEN)
    assert only(load_rows(book, changed(price="12", tax_pct="1", date="2024-05-12")))


def test_an_ingredient_or_currency_without_a_price_is_not_compared(book: Book) -> None:
    load_rows(book, SEEN)
    row = changed(price="400", currency="CAD")
    assert load_rows(book, row, changed(ingredient="egg", pack="1 each", price="99")).added == 2


def test_the_comparison_is_with_the_book_before_the_load(book: Book) -> None:
    """Two new prices of one file that are far apart are not compared with each other."""
    assert load_rows(book, changed(price="1"), changed(price="100", supplier="x")).added == 2
    load_rows(book, changed(ingredient="egg", pack="1 each", price="0.25"))
    rows = [changed(ingredient="egg", pack="1 each", price=p) for p in ("0.5", "0.76")]
    report = load_rows(book, *rows)
    assert [problem.found.split(" = ")[1] for problem in report.problems] == ["$0.76 each"]


def test_the_comparison_moves_with_the_official_index(book: Book) -> None:
    """Milk at 1.00 in January 1980 is not unusual at 3.30 in 2020: the index moved by more.

    us-bls:SEFJ01 was not yet published then, so the bridge takes a wider rung; food at home
    (us-bls:SAF11) went from 87.5 (1980-01) to 243.3 (2020-01), a factor of 2.8.
    """
    [(factor,)] = ask(
        book,
        "SELECT max(value) FILTER (month = '2020-01-01') "
        "/ max(value) FILTER (month = '1980-01-01') "
        "FROM series_value WHERE series = 'us-bls:SAF11'",
    )
    assert factor > 2.5
    milk = {"ingredient": "whole milk", "pack": "1 l", "supplier": ""}
    load_rows(book, changed(**milk, price="1.00", date="1980-01-15"))
    assert load_rows(book, changed(**milk, price="3.30", date="2020-01-15")).problems == ()
    assert load_rows(book, changed(**milk, price="3.30", date="1980-01-20")).problems != ()
