"""Turns the rows of a table of old costings into printed figures: a dish, a day, an amount."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Any

from ingest.tables.cells import Column, columns_of
from ingest.tables.grid import GridRow, as_written
from ingest.tables.layout import Layout
from ingest.tables.row_kinds import first_words, row_kind
from ingest.tables.table import Table
from ingest.text.readers import CellRefused
from ingest.text.sentences import counted
from pricing.errors import Problem


@dataclass(frozen=True, kw_only=True)
class PrintedLine:
    """A figure that an old costing states."""

    line: int
    raw: str
    dish: str
    version: str | None
    day: date  # the first of the month where only a month is stated; `note` says so
    amount: Decimal  # per portion
    currency: str
    where: str | None
    note: str | None
    words: str | None = None  # the amount as printed, where that says more than the number


@dataclass(kw_only=True)
class PrintedLines:
    """What the rows of a table came to."""

    lines: list[PrintedLine] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)


def printed_of_table(table: Table, layout: Layout, *, day: date | None = None) -> PrintedLines:
    """Return the figures of a table, what cannot be read in it, and what was left out."""
    columns = columns_of(table, layout)
    found = PrintedLines()
    left_out: Counter[str] = Counter()
    for row in table.rows:
        values = _values(row, columns, found.problems)
        if values is None:
            continue
        dish, amount = values.get("dish"), values.get("amount")
        if row_kind(dish or first_words(row.cells)) == "total":
            left_out["with a sum"] += 1
        elif dish is None or amount is None:
            left_out["without an amount" if dish else "without a dish"] += 1
        else:
            line = _line(row, values, columns, layout, day)
            if isinstance(line, Problem):
                found.problems.append(line)
            else:
                found.lines.append(line)
    found.remarks += [f"{counted(n, 'row')} {why}, left out." for why, n in left_out.items()]
    if any(line.note and "month as stated" in line.note for line in found.lines):
        found.remarks.append(
            "Only months are stated: each figure counts from the first of its month."
        )
    return found


def _values(
    row: GridRow, columns: dict[str, Column], problems: list[Problem]
) -> dict[str, Any] | None:
    values: dict[str, Any] = {}
    refused = []
    for meaning, column in columns.items():
        value = column.of(row.cells[column.place]) if column.place < len(row.cells) else None
        if value.__class__ is CellRefused:
            refused.append(value.problem(row.line, column.heading))
        values[meaning] = value
    named = values.get("dish")
    if refused and isinstance(named, str) and row_kind(named) != "total":
        problems += refused
    return None if refused else values


def _line(
    row: GridRow, values: dict[str, Any], columns: dict[str, Column], layout: Layout,
    day: date | None,
) -> PrintedLine | Problem:  # fmt: skip
    on, note = values.get("published_on"), values.get("note")
    if on is None and values.get("month") is not None:
        on = values["month"]
        note = "; ".join(filter(None, (note, "month as stated")))
    on = on or day
    amount = values["amount"]
    currency = amount.currency or values.get("currency") or layout.currency
    if on is None or currency is None or amount.value <= 0:
        missing = "a date" if on is None else "a currency" if currency is None else "a cost over 0"
        return Problem(line=row.line, column=None, found=f"a figure without {missing}",
                       expected="a dish, a day, an amount and its currency",
                       remedy="Fill it in, or leave the row out.")  # fmt: skip
    return PrintedLine(
        line=row.line,
        raw=as_written(row),
        dish=values["dish"],
        version=values.get("version"),
        day=on,
        amount=amount.value,
        currency=currency,
        where=values.get("where"),
        note=note,
        words=amount.words,
    )
