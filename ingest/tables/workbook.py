"""Reads the sheets of a workbook (XLSX, XLS, XLSB, ODS) into rows of cells."""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from functools import lru_cache
from itertools import islice
from typing import Any

from ingest.tables.csv_grid import MOST_COLUMNS
from ingest.tables.formulas import without_values
from ingest.tables.grid import Cell, Grid, GridRow
from ingest.tables.hidden_rows import hidden_rows
from ingest.tables.recognise import no_table
from ingest.tables.unpacked import too_much_inside
from ingest.text.limits import LONGEST_CELL, MOST_LINES, too_many_rows
from ingest.text.sentences import counted, quoted
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
        unstored, unseen = without_values(data), hidden_rows(data)
        grids = list(_grids(book, unstored, unseen))
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
        why = next(iter(unstored.values()), "Check which workbook was saved.")
        return no_table("a workbook without a filled cell", why)
    return tuple(grids)


def _grids(book: Any, unstored: Mapping[str, str], unseen: Mapping[str, str]) -> Iterator[Grid]:
    left = MOST_LINES
    hidden = {
        each.name for each in book.sheets_metadata if not str(each.visible).endswith(".Visible")
    }
    for name in book.sheet_names[:MOST_SHEETS]:
        sheet = book.get_sheet_by_name(name)
        rows = tuple(islice(_rows(sheet), left + 1))
        left -= len(rows)
        if left < 0:
            raise _TooManyRows
        if rows:
            said = [*_cut(sheet), *_merged(sheet), unstored.get(name), unseen.get(name)]
            if name in hidden:
                said.append(f"Sheet {quoted(name)} is hidden in its workbook, and was read.")
            yield Grid(name=name, rows=rows, remarks=tuple(filter(None, said)))


def _merged(sheet: Any) -> tuple[str, ...]:
    """Say that cells are merged over several rows: the first alone holds their value."""
    tall = [(first, last) for first, last in sheet.merged_cell_ranges or () if last[0] > first[0]]
    if not tall:
        return ()
    (top, _), (bottom, _) = tall[0]
    return (
        f"{counted(len(tall), 'cell')} of sheet {quoted(sheet.name)} merged over several rows, "
        f"such as rows {top + 1} to {bottom + 1}: the value counts for the first row alone.",
    )


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
