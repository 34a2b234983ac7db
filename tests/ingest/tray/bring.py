"""Brings lines of invented lists into a book, as the reader of a form would."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from ingest.brought import PriceLine
from ingest.kinds.checked import Options
from ingest.load import FileReport
from ingest.one_file import Incoming
from ingest.tray.taking import Brought, take_price_lines
from pricing.book.connect import Book
from tests.kitchen import TODAY, load
from tests.loading import ask

DAY = date(2026, 11, 3)


def line(words: str, price: str = "5", **more: Any) -> PriceLine:
    """Return a line of a list; `more` are further fields of it."""
    given = {"line": 2, "raw": f"{words};{price}", "day": DAY, "currency": "USD", **more}
    return PriceLine(words=words, price=Decimal(price), **given)


def bring(
    book: Book, *lines: PriceLine, name: str = "list.csv", dry_run: bool = False,
    skip_bad: bool = False, **options: bool,
) -> FileReport:  # fmt: skip
    """Take the lines of a list."""
    return take_price_lines(
        book,
        Incoming(shown=name, name=name, data="\n".join(each.raw for each in lines).encode()),
        Brought(form="table", lines=lines),
        Options(today=TODAY, **options),
        dry_run=dry_run,
        skip_bad=skip_bad,
    )


def decide(
    book: Book, *rows: str, columns: str = "sender,words,ingredient,pack", **options: bool
) -> FileReport:
    """Load a file of decisions."""
    return load(book, "decisions", "\n".join([columns, *rows]), **options)


def decided(book: Book, *rows: str, **options: Any) -> int:
    """Load a file of decisions that has no problems; return the load's number."""
    report = decide(book, *rows, **options)
    assert report.problems == (), [problem.sentence() for problem in report.problems]
    assert report.load is not None
    return report.load


def waiting(book: Book) -> list[str]:
    """Return the words of the prices that wait, in the order in which they came."""
    return [words for (words,) in ask(book, "SELECT words FROM tray_waiting ORDER BY row_id")]


def seen(book: Book) -> list[tuple[Any, ...]]:
    """Return ingredient, price, pack and supplier of each price in force."""
    return ask(
        book,
        "SELECT i.name, price, pack, supplier FROM observation_now o "
        "JOIN ingredient i USING (ingredient_id) ORDER BY o.row_id",
    )


def rows_of(book: Book, tables: Sequence[str]) -> dict[str, int]:
    """Return how many rows tables have."""
    return {each: ask(book, f"SELECT count(*) FROM {each}")[0][0] for each in tables}
