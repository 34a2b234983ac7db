"""Turns the cells of a file into values, column by column, and lists every cell that cannot be."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from ingest.text.columns import Column
from ingest.text.csv_text import RawRow, Sheet
from ingest.text.header import Heading
from ingest.text.readers import CellRefused, Reader
from ingest.text.sentences import plural, quoted
from pricing.errors import MeasureRefused, Problem


@dataclass(frozen=True, kw_only=True, slots=True)
class Row:
    """A row whose cells were read. A column that is absent, empty or bad has the value None."""

    line: int  # physical line on which it starts
    raw: str
    value: Mapping[str, Any]  # every declared column → its value
    bad: frozenset[str]  # columns whose cell could not be read; each has its Problem
    whole: bool = True  # False: too long, too short or badly quoted; `value` holds only what the
    # first cells say of the dish and version, if anything, and the row has its Problem

    def problem(
        self, column: str | None, found: str, expected: str, remedy: str, code: str | None = None
    ) -> Problem:
        """Return a problem of this row."""
        return Problem(
            line=self.line, column=column, found=found, expected=expected, remedy=remedy, code=code
        )

    def refused(self, column: str, error: MeasureRefused) -> Problem:
        """Return the problem of a measure in this row that cannot be read."""
        return self.problem(column, error.found, error.expected, error.remedy)


def read_rows(
    sheet: Sheet, heading: Heading, columns: tuple[Column, ...]
) -> tuple[list[Row], list[Problem]]:
    """Return the rows in order, and the problems of their cells."""
    rows: list[Row] = []
    problems: list[Problem] = []
    blank = {column.name: None for column in columns}
    # Most cells of a column come again and again, so what a text came to is kept, by column.
    plan: list[tuple[Column, str, int, dict[str, Any]]] = [
        (column, column.name, place, {}) for column, place in heading.places
    ]
    for raw in sheet.rows:
        if raw.cells is None or len(raw.cells) != heading.width:
            problems.append(raw.problem or _wrong_length(raw, heading))
            rows.append(_broken(raw, heading, blank))
            continue
        value: dict[str, Any] = dict(blank)
        bad: list[str] = []
        cells = raw.cells
        for column, name, place, known in plan:
            cell = cells[place]
            if cell in known:
                read = known[cell]
            else:
                read = known[cell] = _read(column, cell)
            if read.__class__ is CellRefused:
                bad.append(name)
                problems.append(read.problem(raw.line, name))
            else:
                value[name] = read
        rows.append(Row(line=raw.line, raw=raw.raw, value=value, bad=frozenset(bad)))
    return rows, problems


def empty_cell(column: Column) -> CellRefused:
    """Return what is wrong with an empty cell of a required column."""
    return CellRefused(
        "an empty cell",
        column.never_empty or f"a value for {column.name} in every row",
        "Fill the cell in.",
    )


def _read(column: Column, cell: str) -> Any:
    """Return the value of a cell, or the CellRefused that says why it has none."""
    if not cell:
        return empty_cell(column) if column.required else None
    return _attempt(column.reader, cell)


def _attempt(reader: Reader, cell: str) -> Any:
    try:
        return reader(cell)
    except CellRefused as refused:
        return refused


def _broken(raw: RawRow, heading: Heading, blank: Mapping[str, Any]) -> Row:
    cells = [cell.strip(' "') for cell in raw.raw.split(",")] if raw.cells is None else raw.cells
    value = dict(blank)
    for column, place in heading.places:
        if column.name in ("dish", "version") and place < len(cells):
            value[column.name] = cells[place] or None
    return Row(line=raw.line, raw=raw.raw, value=value, bad=frozenset(blank), whole=False)


def _wrong_length(raw: RawRow, heading: Heading) -> Problem:
    count = len(raw.cells or ())
    remedy = (
        "Put a cell that holds a comma in quotation marks, and write decimals with a point."
        if count > heading.width
        else "Add the missing cells; an empty one still needs its comma."
    )
    return Problem(
        line=raw.line,
        column=None,
        found=f"{count} {plural(count, 'cell')} ({quoted(raw.raw)})",
        expected=f"{heading.width}, as in the header",
        remedy=remedy,
    )
