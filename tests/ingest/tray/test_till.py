"""A till's text becomes prices; its lines must come to its total, and its day must be certain."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

from ingest.load import FileReport, load_bytes
from pricing.book.connect import Book
from tests.kitchen import TODAY
from tests.loading import ask, only

TILL = "Vorbel Markt\n{} 18:04\nleek 500 g 1.20\npearl barley 1 kg 2.00\nTotal {}\n"


def bring(book: Book, day: str, total: str = "3.20", **more: Any) -> FileReport:
    data = TILL.format(day, total).encode()
    return load_bytes(book, "prices", "till.txt", data, today=TODAY, **more)


def days(book: Book) -> set[date]:
    sql = "SELECT observed_on FROM observation UNION SELECT observed_on FROM tray_line"
    return {day for (day,) in ask(book, sql)}


def test_its_lines_are_taken_or_wait(book: Book) -> None:
    report = bring(book, "13/10/2026")
    assert (report.form, report.problems, report.added + report.waiting) == ("till-text", (), 2)
    both = "SELECT price FROM observation UNION ALL SELECT price FROM tray_line"
    sql = f"SELECT sum(price) FROM ({both})"
    assert ask(book, sql) == [(Decimal("3.20"),)]
    assert days(book) == {date(2026, 10, 13)}


def test_a_sum_that_differs_refuses_the_whole(book: Book) -> None:
    """1.20 and 2.00 are 3.20, and not 3.30."""
    problem = only(bring(book, "13/10/2026", "3.30"))
    assert problem.found == "lines that come to $3.20"
    assert problem.expected == "the printed total, $3.30"
    assert days(book) == set()


def test_a_day_that_may_be_two_is_asked(book: Book) -> None:
    problem = only(bring(book, "03/10/2026"))
    assert problem.found.endswith("may be 2026-03-10 or 2026-10-03")
    bring(book, "03/10/2026", told={"day": "2026-10-03"})
    assert days(book) == {date(2026, 10, 3)}


def test_of_two_days_one_in_the_future_cannot_be(book: Book) -> None:
    """On 24 November 2026 nobody has a receipt of 11 December; of 12 November one may."""
    assert bring(book, "11/12/2026").problems == ()
    assert days(book) == {date(2026, 11, 12)}


def test_a_day_in_the_future_in_either_order_is_refused(book: Book) -> None:
    assert only(bring(book, "25/12/2026")).found == "the date 2026-12-25, which is after today"
    assert days(book) == set()
