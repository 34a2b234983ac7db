"""Reads the sheets of a workbook (XLSX, XLS, XLSB, ODS) into rows of cells."""

from __future__ import annotations

import io
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from functools import lru_cache
from itertools import islice
from typing import Any

from ingest.tables.csv_grid import MOST_COLUMNS
from ingest.tables.grid import Cell, Grid, GridRow
from ingest.tables.recognise import no_table
from ingest.tables.unpacked import too_much_inside
from ingest.text.limits import LONGEST_CELL, MOST_LINES, too_many_rows
from ingest.text.sentences import counted
from pricing.errors import Problem

MOST_SHEETS = 50  # read; a workbook of more is told
_ERRORS = ("#REF!", "#VALUE!", "#NAME?", "#DIV/0!", "#N/A", "#NULL!", "#NUM!")


class _TooManyRows(Exception):
    """The sheets of a workbook have more rows than are read."""


def workbook_grids(data: bytes) -> tuple[Grid, ...] | Problem:
    """Return the visible and hidden sheets that have cells, in order; or why there are none."""
    wrong = too_much_inside(data)
    if wrong is not None:
        return wrong
    import python_calamine as calamine

    try:
        book = calamine.load_workbook(io.BytesIO(data))
        grids = list(_grids(book))
    except _TooManyRows:
        return too_many_rows(MOST_LINES)
    except calamine.PasswordError:
        return no_table("a workbook with a password", "Save it without a password.")
    except (calamine.CalamineError, OSError, ValueError) as error:
        return no_table(
            f"a workbook that cannot be read ({error})",
            "Open it, and save it again as XLSX or CSV.",
        )
    if not grids:
        return no_table(
            "a workbook without a filled cell",
            "If its cells are formulas, open it and save it again, so that their values are kept.",
        )
    return tuple(grids)


def _grids(book: Any) -> Iterator[Grid]:
    left = MOST_LINES
    for name in book.sheet_names[:MOST_SHEETS]:
        sheet = book.get_sheet_by_name(name)
        rows = tuple(islice(_rows(sheet), left + 1))
        left -= len(rows)
        if left < 0:
            raise _TooManyRows
        if rows:
            yield Grid(name=name, rows=rows, remarks=_cut(sheet))


def _cut(sheet: Any) -> tuple[str, ...]:
    width = sheet.end[1] + 1 if sheet.end else 0
    if width <= MOST_COLUMNS:
        return ()
    return (f"Of {counted(width, 'column')} the first {MOST_COLUMNS:,} were read.",)


def _rows(sheet: Any) -> Iterator[GridRow]:
    if sheet.start is None:
        return
    first = sheet.start[0] + 1
    for line, values in enumerate(sheet.iter_rows(), start=1):
        if line < first:
            continue
        cells = tuple(map(_cell, values[:MOST_COLUMNS]))
        if any(cells) or any(not isinstance(cell, str) for cell in cells):
            yield GridRow(line, cells, "")


def _cell(value: Any) -> Cell:
    if value.__class__ is str:
        text: str = value[:LONGEST_CELL].strip()
        return "" if text in _ERRORS else text
    if value.__class__ is float:
        return _decimal(value)
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, date):
        return value
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int):
        return Decimal(value)
    if isinstance(value, time | timedelta):
        return str(value)
    return "" if value is None else str(value).strip()


@lru_cache(maxsize=50_000)
def _decimal(value: float) -> Decimal:
    """Return a number as its cell shows it: of the 17 digits that a float has, 15 were typed.

    >>> _decimal(0.1 + 0.2), _decimal(12.90), _decimal(4006381333931.0)
    (Decimal('0.3'), Decimal('12.9'), Decimal('4006381333931'))
    """
    return Decimal(format(Decimal(format(value, ".15g")), "f"))
