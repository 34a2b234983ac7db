"""A sheet as rows of cells: what a reader of any kind of table returns."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import NamedTuple

Cell = str | Decimal | date  # text is trimmed; an empty cell is ""


class GridRow(NamedTuple):
    """One row."""

    line: int  # physical line on which it starts, from 1
    cells: tuple[Cell, ...]
    raw: str  # as written; "" where its cells are not text (a workbook)


@dataclass(frozen=True, kw_only=True)
class Grid:
    """One sheet: its rows in order, blank ones left out."""

    name: str  # of the sheet; "" for a file that has only one
    rows: tuple[GridRow, ...]
    remarks: tuple[str, ...] = ()


def text_of(cell: Cell) -> str:
    """Return a cell as text: a number with a point and without an exponent, a date by ISO 8601.

    >>> text_of(Decimal("1E+3")), text_of(date(2026, 10, 3)), text_of("leek")
    ('1000', '2026-10-03', 'leek')
    """
    if isinstance(cell, str):
        return cell
    return f"{cell:f}" if isinstance(cell, Decimal) else cell.isoformat()


def as_written(row: GridRow) -> str:
    """Return a row as written; that of a workbook with bars between its cells."""
    if row.raw:
        return row.raw
    return " | ".join([text for cell in row.cells if (text := text_of(cell))])
