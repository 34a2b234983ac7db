"""A workbook being written: its sheets, and how words, numbers, days and formulas stand in them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from io import BytesIO
from typing import Any

import xlsxwriter

from pricing.money import minor_units

MONEY, DAY, NUMBER, HEAD, WORDS = "money", "day", "number", "head", "words"

_LINE = 15  # points


class Book:
    """A workbook being written: its sheets and the looks of their cells."""

    def __init__(self, currency: str, made_on: date) -> None:
        self.content = BytesIO()
        told = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
        self.file = xlsxwriter.Workbook(self.content, told)
        # the day of the report, not the clock: the same report gives the same bytes
        self.file.set_properties({"created": datetime(*made_on.timetuple()[:3])})  # noqa: DTZ001
        digits = minor_units().get(currency, 2)
        decimals = f".{'0' * digits}" if digits else ""
        self.looks = {
            MONEY: self.file.add_format({"num_format": f"#,##0{decimals}"}),
            DAY: self.file.add_format({"num_format": "yyyy-mm-dd"}),
            NUMBER: self.file.add_format({"num_format": "#,##0.0"}),
            HEAD: self.file.add_format({"bold": True, "text_wrap": True, "valign": "top"}),
            WORDS: self.file.add_format({"text_wrap": True, "valign": "top"}),
        }

    def sheet(self, name: str, headings: Sequence[str], widths: Sequence[int]) -> Sheet:
        """Begin a sheet with its headings."""
        made = Sheet(self, self.file.add_worksheet(name))
        for column, width in enumerate(widths):
            made.into.set_column(column, column, width)
        for column, heading in enumerate(headings):
            made.into.write_string(0, column, heading, self.looks[HEAD])
        made.into.freeze_panes(1, 1)
        made.into.set_landscape()
        made.into.fit_to_pages(1, 0)
        made.into.repeat_rows(0)
        return made

    def closed(self) -> bytes:
        """Return the bytes of the finished file."""
        self.file.close()
        return self.content.getvalue()


class Sheet:
    """A sheet that is filled row by row."""

    def __init__(self, book: Book, into: Any) -> None:
        self.looks, self.into, self.row = book.looks, into, 1

    def add(self, *cells: Any) -> int:
        """Write a row; return its number as a spreadsheet has it.

        A cell is words, a number, a day, None, or (number or formula, look[, value of formula]).
        """
        for column, cell in enumerate(cells):
            self._put(column, cell)
        self.row += 1
        return self.row

    def tall(self, lines: int) -> None:
        """Make the next row so many lines high."""
        self.into.set_row(self.row, _LINE * lines)

    def _put(self, column: int, cell: Any) -> None:
        value, look, known = (
            (*cell, None, None)[:3] if isinstance(cell, tuple) else (cell, None, None)
        )
        style = self.looks.get(look) if look else None
        if value is None:
            return
        if isinstance(value, date):
            moment = datetime(value.year, value.month, value.day)  # noqa: DTZ001 — a day, no instant
            self.into.write_datetime(self.row, column, moment, self.looks[DAY])
        elif isinstance(value, str) and look in (MONEY, NUMBER) and value.startswith("="):
            self.into.write_formula(
                self.row, column, value, style, known if known is not None else ""
            )
        elif isinstance(value, str):  # whatever a name begins with, it is no formula
            self.into.write_string(self.row, column, value, style)
        else:
            self.into.write_number(self.row, column, float(value), style)
