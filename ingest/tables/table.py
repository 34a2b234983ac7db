"""Finds the table in a sheet: its header, what stands above it, the rows below it."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ingest.tables.dates import orders_of
from ingest.tables.grid import Cell, Grid, GridRow
from ingest.tables.headings import heading_says
from ingest.tables.numbers import split_money
from ingest.text.fold import fold
from ingest.text.sentences import quoted

_DIGIT = re.compile(r"[0-9]")
_NUMBER_CELL = re.compile(r"(?:^|[;,\t|])[0-9][0-9./-]*(?:$|[;,\t|])")  # quick: most rows have one
_MOST_BANNER = 100  # rows above a header
_MONEY = {"price", "unit_price", "total", "amount"}
_THING = {"words", "product", "ingredient", "item_number", "gtin", "dish"}


@dataclass(frozen=True, kw_only=True)
class Table:
    """One table of a sheet."""

    sheet: str
    # as written; one that comes again has a number; "column 3" without one
    headings: tuple[str, ...]
    fingerprint: str
    header: int | None  # physical line; None where the table has no headings
    banner: tuple[GridRow, ...]  # above it
    rows: tuple[GridRow, ...]  # below it, up to the next table
    score: tuple[int, float, int]  # the best of several tables is the highest
    remarks: tuple[str, ...] = ()


def fingerprint(cells: Sequence[Cell]) -> str:
    """Return what identifies a header: its folded cells in order, without blank ones at the end.

    >>> fingerprint(("Artikel", "PREIS ")) == fingerprint(("artikel", "Preis", ""))
    True
    """
    words = [fold(cell) if isinstance(cell, str) else str(cell) for cell in cells]
    while words and not words[-1]:
        words.pop()
    return hashlib.sha256("\x1f".join(words).encode()).hexdigest()[:32]


def find_tables(grid: Grid) -> list[Table]:
    """Return the tables of a sheet, the best first."""
    rows = grid.rows
    starts = [place for place, row in enumerate(rows) if _is_header(row)]
    if not starts:
        return [_unknown_header(grid)]
    prints = [fingerprint(rows[place].cells) for place in starts]
    tables = []
    for number, place in enumerate(starts):
        if number and prints[number] == prints[number - 1]:
            continue  # the same header again, on the next page of a printout
        later = [
            after
            for after, mark in zip(starts[number + 1 :], prints[number + 1 :], strict=True)
            if mark != prints[number]
        ]
        end = later[0] if later else len(rows)
        above = rows[max(0, place - _MOST_BANNER) : place] if number == 0 else ()
        tables.append(_table(grid, place, end, above))
    if len(tables) > 1 and all(table.fingerprint == tables[0].fingerprint for table in tables):
        return tables[:1]
    return sorted(tables, key=lambda table: table.score, reverse=True)


def best_table(found: Sequence[Table]) -> Table:
    """Return the table that says most, with a remark about those that were left aside."""
    best = max(found, key=lambda table: table.score)
    others = [table for table in found if table is not best and table.rows]
    names = ", ".join(_name(table) for table in others[:5])
    remarks = (f"The table {_name(best)} was taken. Not read: {names}.",) if others else ()
    return replace(best, remarks=best.remarks + remarks)


def _name(table: Table) -> str:
    sheet = f" of sheet {quoted(table.sheet)}" if table.sheet else ""
    return f"at line {table.header or 1}{sheet}"


def _table(grid: Grid, place: int, end: int, above: Sequence[GridRow]) -> Table:
    header = grid.rows[place]
    mark = fingerprint(header.cells)
    below = tuple(row for row in grid.rows[place + 1 : end] if row.cells != header.cells)
    return Table(
        sheet=grid.name,
        headings=_unique(header.cells),
        fingerprint=mark,
        header=header.line,
        banner=tuple(above),
        rows=below,
        score=_score(header, len(below)),
        remarks=grid.remarks,
    )


def _unique(cells: Sequence[Cell]) -> tuple[str, ...]:
    seen: dict[str, int] = {}
    names = []
    for place, cell in enumerate(cells, start=1):
        name = " ".join(str(cell).split()) or f"column {place}"
        seen[name] = seen.get(name, 0) + 1
        names.append(name if seen[name] == 1 else f"{name} ({seen[name]})")
    return tuple(names)


def _score(header: GridRow, rows: int) -> tuple[int, float, int]:
    says = [heading_says(cell) for cell in header.cells if isinstance(cell, str) and cell]
    known = {each.meanings[0] for each in says if each.meanings and each.meanings[0] != "ignored"}
    needs = bool(known & _MONEY) + bool(known & _THING)
    return needs if rows else 0, float(len(known)), rows


def _is_header(row: GridRow) -> bool:
    """Tell whether a row holds headings: text in each cell, and at least two that are known."""
    if _NUMBER_CELL.search(row.raw) or any(cell.__class__ is not str for cell in row.cells):
        return False
    words = [cell for cell in row.cells if isinstance(cell, str) and cell]
    if len(words) < 2:
        return False
    if _DIGIT.search(row.raw or " ".join(words)) and any(map(_is_value, words)):
        return False
    found: set[str] = set()
    whole = 0
    for cell in words[:200]:
        says = heading_says(cell)
        if says.meanings and (says.whole or len(cell) < 40):
            whole += says.whole
            found.update(says.meanings[:1])
    return len(found) >= 2 and whole >= 1 and bool(found - {"ignored"})


def _is_value(cell: str) -> bool:
    return split_money(cell) is not None or orders_of(cell) is not None


def _unknown_header(grid: Grid) -> Table:
    """Return a sheet as one table, without headings or with some that no word of is known."""
    place = next((at for at, row in enumerate(grid.rows[:60]) if _holds_values(row)), 0)
    above = grid.rows[place - 1] if place else None
    width = max(len(row.cells) for row in grid.rows[: place + 50])
    if above is not None and _all_words(above, grid.rows[place]):
        table = _table(grid, place - 1, len(grid.rows), grid.rows[: place - 1])
    else:
        names = tuple(f"column {number}" for number in range(1, width + 1))
        table = Table(
            sheet=grid.name,
            headings=names,
            fingerprint=fingerprint(names),
            header=None,
            banner=tuple(grid.rows[:place]),
            rows=tuple(grid.rows[place:]),
            score=(0, 0.0, len(grid.rows) - place),
            remarks=grid.remarks,
        )
    return table


def _holds_values(row: GridRow) -> bool:
    filled = [cell for cell in row.cells if cell != ""]
    values = [cell for cell in filled if not isinstance(cell, str) or _is_value(cell)]
    return len(filled) >= 2 and bool(values)


def _all_words(row: GridRow, below: GridRow) -> bool:
    filled = [cell for cell in row.cells if cell != ""]
    wide = len(filled) * 2 > sum(cell != "" for cell in below.cells)
    return wide and all(isinstance(cell, str) and not _is_value(cell) for cell in filled)
