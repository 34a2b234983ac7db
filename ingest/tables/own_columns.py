"""Brings a table with our own column names, written in another habit, into the form we read."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Mapping
from datetime import date

from ingest.tables.contents import date_orders, decimal_marks
from ingest.tables.dates import ORDERS, read_date, read_month
from ingest.tables.grid import Cell, Grid, GridRow, text_of
from ingest.tables.numbers import AMBIGUOUS, decimal_mark, read_number
from ingest.tables.packs import pack_words
from ingest.tables.settle import answer
from ingest.text import readers
from ingest.text.columns import TABLES, Column
from ingest.text.csv_text import RawRow, Sheet
from pricing.names import name_key

_MOST_ABOVE = 60  # rows over the header
_WORDS = (readers.text, readers.name, readers.name_list, readers.allergens, readers.currency)
_DAYS = (readers.day, readers.instant)
_AMOUNTS = ("quantity", "pack")  # text that begins with a number


def own_columns(grid: Grid, kind: str, told: Mapping[str, str] | None = None) -> Sheet | None:
    """Return a sheet whose header has our required columns of a kind, for `read_columns`; or None.

    Dates become ISO 8601 and decimals get a point where the whole table, or `told` (date=…,
    decimal=…), says how they are meant; other cells stay as written, and are refused where they
    cannot be read.
    """
    columns = TABLES[kind]
    required = {name_key(column.name) for column in columns if column.required}
    for place, row in enumerate(grid.rows[:_MOST_ABOVE]):
        if required <= {name_key(text_of(cell)) for cell in row.cells}:
            return _sheet(row, grid.rows[place + 1 :], columns, told or {})
    return None


def _sheet(
    header: GridRow, rows: tuple[GridRow, ...], columns: tuple[Column, ...], told: Mapping[str, str]
) -> Sheet:
    names = [text_of(cell) for cell in header.cells]
    while names and not names[-1]:
        names.pop()
    by_name = {name_key(column.name): column for column in columns}
    held = {place: by_name.get(name_key(name)) for place, name in enumerate(names)}
    order, decimal = _habits(held, rows, told)
    read = [_reader(held[place], order, decimal) for place in range(len(names))]
    return Sheet(
        header=_raw(header.line, tuple(names)),
        rows=tuple(_raw(row.line, _normal(_as_wide(row, len(names)), read)) for row in rows),
    )


def _as_wide(row: GridRow, width: int) -> tuple[Cell, ...]:
    """Return the cells of a row under the header; one that is longer or shorter keeps its width."""
    cells = row.cells
    while len(cells) > width and cells[-1] == "":
        cells = cells[:-1]
    blank = ("",) * (width - len(cells))
    return cells + blank if not row.raw else cells  # a sheet's rows end at their last filled cell


def _normal(cells: tuple[Cell, ...], read: list[Callable[[Cell], str]]) -> tuple[str, ...]:
    found = tuple(each(cell) for each, cell in zip(read, cells, strict=False))
    return found + tuple(map(text_of, cells[len(read) :]))


def _habits(
    held: Mapping[int, Column | None], rows: tuple[GridRow, ...], told: Mapping[str, str]
) -> tuple[str, str]:
    """Return the order of dates and the decimal mark of a table; "" where it does not say."""
    days = [place for place, column in held.items() if column and column.reader in _DAYS]
    numbers = [place for place, column in held.items() if column and _is_number(column)]
    order = answer(told, "date", ORDERS) or ""
    if not order:
        found = [orders for place in days if (orders := date_orders(rows, place)[0]) is not None]
        both = frozenset.intersection(*found) if found else frozenset()
        order = next(iter(both)) if len(both) == 1 else ""
    decimal = {"point": ".", "comma": ","}.get(told.get("decimal", ""), "")
    if not decimal:
        clear = decimal_marks(rows, numbers) - {AMBIGUOUS}
        decimal = clear.pop() if len(clear) == 1 else ""
    return order, decimal


def _is_number(column: Column) -> bool:
    reader = column.reader
    others = (*_WORDS, *_DAYS, readers.month, readers.printed_amount)
    return reader not in others and not isinstance(reader, readers.Choice)


def _reader(column: Column | None, order: str, decimal: str) -> Callable[[Cell], str]:
    if column is None:
        return text_of
    if column.reader is readers.month:
        return _month
    if column.reader in _DAYS:
        return lambda cell: _day(cell, order)
    if _is_number(column):
        return lambda cell: _number(cell, decimal)
    if column.name in _AMOUNTS:
        return lambda cell: _amount(cell, decimal)
    return text_of


def _day(cell: Cell, order: str) -> str:
    day = read_date(cell, order) if isinstance(cell, str) else None
    return text_of(cell) if day is None else day.isoformat()


def _month(cell: Cell) -> str:
    month = cell if isinstance(cell, date) else read_month(text_of(cell))
    return text_of(cell) if month is None else f"{month:%Y-%m}"


def _number(cell: Cell, decimal: str) -> str:
    if not isinstance(cell, str) or not cell:
        return text_of(cell)
    value = read_number(cell.removesuffix("%"), decimal)
    return cell if value is None else f"{value:f}"


def _amount(cell: Cell, decimal: str) -> str:
    if not isinstance(cell, str):
        return text_of(cell)
    mark = decimal_mark(cell) if cell.replace(",", "").isdigit() else None
    if mark == "," and decimal != ".":
        return cell.replace(",", ".")
    return (pack_words(cell, decimal) or cell) if "," in cell else cell


def _raw(line: int, cells: tuple[str, ...]) -> RawRow:
    out = io.StringIO()
    csv.writer(out, lineterminator="").writerow(cells)
    return RawRow(line=line, raw=out.getvalue(), cells=cells)
