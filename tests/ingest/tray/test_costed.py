"""A costing of one dish is one load: prices of its day, a printed figure, and what waits."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from ingest.load import FileReport, load_bytes, undo
from pricing.book.connect import Book
from pricing.book.keeping.check import check
from pricing.errors import InputRefused
from tests.ingest.tray.bring import decided, rows_of, waiting
from tests.kitchen import TODAY
from tests.loading import ask, only
from tests.workbook import workbook

SHEET = (
    "Leek bake,,,,,\nCosted on,13 October 2019,,,,\nServes 6,,,,,\n"
    "Ingredient,Quantity,Unit,Pack,Pack price,Cost\nLeek,800,g,1 kg,1.80,1.44\n"
    "Whole milk,0.5,l,1 l,0.90,0.45\nZorvik,5,g,100 g,2.00,0.10\nTotal,,,,,1.99\n"
    "Cost per portion,,,,,0.33\n"
)
TABLES = ("observation", "printed_figure", "printed_detail", "tray_line", "layout")


def bring(
    book: Book, content: str | bytes = SHEET, kind: str = "printed", **told: str
) -> FileReport:
    data = content.encode() if isinstance(content, str) else content
    return load_bytes(book, kind, "old costing.csv", data, today=TODAY, told=told)


def in_force(book: Book) -> dict[str, int]:
    views = ("observation_now", "printed_now", "tray_line_now", "layout_now")
    return rows_of(book, views)


def prices(book: Book) -> list[tuple[Any, ...]]:
    return ask(
        book, "SELECT observed_on, price, pack, raw, source FROM observation ORDER BY row_id"
    )


def test_prices_figure_and_what_waits_come_in_one_load(book: Book) -> None:
    report = bring(book)
    assert report.problems == ()
    assert (report.form, report.added, report.already, report.waiting) == ("table", 3, 0, 1)
    day, source = date(2019, 10, 13), "costing of leek bake"
    assert prices(book) == [
        (day, Decimal("1.80"), "1 kg", "Leek,800,g,1 kg,1.80,1.44", source),
        (day, Decimal("0.90"), "1 l", "Whole milk,0.5,l,1 l,0.90,0.45", source),
    ]
    assert waiting(book) == ["Zorvik"]
    figure = ask(
        book,
        "SELECT published_on, costed_on, cost_per_portion, currency, version, raw FROM printed_now",
    )
    assert figure == [(day, day, Decimal("0.33"), "USD", "1", SHEET.rstrip("\n"))]
    assert {batch for table in TABLES for (batch,) in ask(book, f"SELECT batch FROM {table}")} == {
        report.load
    }
    ((kind, name, sha),) = ask(
        book, f"SELECT kind, file_name, file_sha256 FROM load_batch WHERE batch = {report.load}"
    )
    assert (kind, name, len(sha)) == ("printed", "old costing.csv", 64)
    assert check(book).problems == ()


def test_twice_adds_nothing_and_undo_takes_all_back(book: Book) -> None:
    load = bring(book).load
    again = bring(book)
    assert (again.load, again.added, again.already) == (None, 0, 4)
    assert load is not None
    assert undo(book, load) == 3
    assert in_force(book) == dict.fromkeys(
        ("observation_now", "printed_now", "tray_line_now", "layout_now"), 0
    )
    assert check(book).problems == ()


def test_what_is_missing_is_asked_at_once(book: Book) -> None:
    text = "Ingredient,Qty,Cost\nleek,800 g,1.44\n"
    report = bring(book, text)
    only(report)
    assert [each.name for each in report.questions] == ["day", "dish", "portions"]
    assert rows_of(book, TABLES) == dict.fromkeys(TABLES, 0)
    told = bring(book, text, day="2018-05-01", dish="leek bake", portions="6")
    assert (told.problems, told.added) == ((), 2)
    # 1.44 ÷ 6
    assert ask(book, "SELECT cost_per_portion FROM printed_now") == [(Decimal("0.24"),)]


def test_a_workbook_of_a_month(book: Book) -> None:
    data = workbook(
        [
            ["Stock"], ["Month:", "May 2016"], ["Ingredient", "Qty", "Cost"],
            ["leek", "1 bunch", 1.1], ["Total", None, 1.1], ["Per portion", None, 0.11],
        ]
    )  # fmt: skip
    report = bring(book, data)
    assert (report.problems, report.form, report.added) == ((), "workbook", 2)
    assert [row[:2] for row in prices(book)] == [(date(2016, 5, 1), Decimal("1.10"))]
    assert any("Only a month is stated" in each for each in report.remarks)


def test_it_belongs_elsewhere(book: Book) -> None:
    """A costing is no list of prices, and neither is one of the other or of several dishes."""
    assert "the costing of one dish" in only(bring(book, kind="prices")).found
    listed = "Article,Pack,Price,Date\nleek,500 g,1.20,2024-10-13\n"
    assert "a list of prices" in only(bring(book, listed)).found
    several = "Recipe,Ingredient,Qty,Cost\nleek bake,leek,800 g,1.44\nstock,leek,1 bunch,1.10\n"
    assert "costed lines of 2 dishes" in only(bring(book, several)).found


def test_a_dish_that_the_book_lacks_refuses_all(book: Book) -> None:
    report = bring(book, SHEET, dish="leek pie")
    assert only(report).column == "dish"
    assert rows_of(book, TABLES) == dict.fromkeys(TABLES, 0)


def test_what_waited_becomes_a_price_by_a_decision_which_then_needs_the_load(book: Book) -> None:
    load = bring(book).load
    assert load is not None
    later = decided(book, ",Zorvik,pearl barley,")
    with pytest.raises(InputRefused, match=f"Cannot undo load {load}"):
        undo(book, load)
    undo(book, later)
    undo(book, load)
    assert set(in_force(book).values()) == {0}
