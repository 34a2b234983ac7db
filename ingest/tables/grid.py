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
    if isinstance(cell, Decimal):
        return f"{cell:f}"
    return cell if isinstance(cell, str) else cell.isoformat()


def as_written(row: GridRow) -> str:
    """Return a row as written; that of a workbook with bars between its cells."""
    return row.raw or " | ".join(text_of(cell) for cell in row.cells if cell != "")
