"""Draws a report as a workbook whose sums are formulas, which any spreadsheet works out again."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from dashboard.report import sheets
from dashboard.report.cells import Book
from dashboard.words.document import Document

if TYPE_CHECKING:
    from pricing.report.records import Report


def draw_workbook(found: Report, document: Document) -> bytes:
    """Return the report as a workbook in the Office Open XML format."""
    book = Book(found.currency, found.on)
    sheets.words(book, document)
    rows = sheets.lines_place(found)
    parts: tuple[Callable[[Book, Report], None], ...] = (
        lambda each, report: sheets.dishes(each, report, rows),
        sheets.lines, sheets.index, sheets.drivers, sheets.printed, sheets.prices, sheets.series,
        sheets.values,
    )  # fmt: skip
    for part in parts:
        part(book, found)
    return book.closed()
