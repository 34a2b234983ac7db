"""Turns the rows of a table into lines with a price: what was paid, for how much of what."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from typing import Any

from ingest.brought import PriceLine
from ingest.tables.cells import Amount, Column, columns_of
from ingest.tables.grid import GridRow, as_written
from ingest.tables.layout import Layout
from ingest.tables.paid import Paid, paid_for
from ingest.tables.row_kinds import first_words, row_kind
from ingest.tables.table import Table
from ingest.text.readers import CellRefused
from ingest.text.sentences import counted, quoted
from pricing.errors import Problem

_MONEY = ("total", "price", "unit_price")
_MOST_NAMED = 5


@dataclass(kw_only=True)
class Lines:
    """What the rows of a table came to."""

    lines: list[PriceLine] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)


def lines_of_table(table: Table, layout: Layout, *, day: date | None = None) -> Lines:
    """Return the lines of a table, what cannot be read in it, and what was left out.

    `day` is that of all lines, where no column holds one.
    """
    reading = _Reading(layout, columns_of(table, layout), day)
    for row in table.rows:
        reading.take(row)
    return Lines(lines=reading.lines, problems=reading.problems, remarks=reading.remarks())


class _Reading:
    """The rows of one table, taken one after another."""

    def __init__(self, layout: Layout, columns: dict[str, Column], day: date | None) -> None:
        self._layout, self._day = layout, day
        self._columns = columns
        self._plan = [(name, each.place, each.known, each) for name, each in columns.items()]
        self._rate = None if layout.tax_rate is None else Decimal(layout.tax_rate)
        self.lines: list[PriceLine] = []
        self.problems: list[Problem] = []
        self._left_out: dict[str, list[int]] = {}
        self._last: int | None = None  # line of the last item, to which a reduction belongs

    def take(self, row: GridRow) -> None:
        """Read one row."""
        cells = row.cells
        width = len(cells)
        values: dict[str, Any] = {}  # of filled cells that could be read
        refused: list[tuple[CellRefused, Column]] = []
        for meaning, place, known, column in self._plan:
            if place >= width:
                continue
            cell = cells[place]
            if not cell and cell.__class__ is str:  # a number is slow to compare with text
                continue
            value = known[cell] if cell in known else column.of(cell)
            if value.__class__ is CellRefused:
                refused.append((value, column))
            elif value is not None:
                values[meaning] = value
        words = values.get("words") or values.get("ingredient") or values.get("product")
        kind = row_kind(words or first_words(cells))
        if kind in ("total", "tax") and self._has_item(values, words):
            kind = None
        if kind is not None:
            self._aside(row, kind, values)
        elif refused and self._is_item(values, words, refused):
            self.problems += [why.problem(row.line, column.heading) for why, column in refused]
        else:
            self._item(row, values, words)

    def _is_item(
        self, values: dict[str, Any], words: str | None, refused: list[tuple[CellRefused, Column]]
    ) -> bool:
        """Tell whether a row with a wrong cell is meant as an item, and not as a title."""
        money = [self._columns[each] for each in _MONEY if each in self._columns]
        meant = any(each in values for each in _MONEY) or any(c in money for _, c in refused)
        return meant and (words is not None or self._has_item(values, words))

    def _has_item(self, values: dict[str, Any], words: str | None) -> bool:
        """Tell whether a row has an item; "Sum" alone is no number, wherever it stands."""
        number = values.get("item_number")
        if number and words is None and row_kind(number) in ("total", "tax"):
            number = None
        return bool(number or values.get("gtin") or values.get("pack"))

    def _aside(self, row: GridRow, kind: str, values: dict[str, Any]) -> None:
        """Leave a row out; a reduction right below an item lowers what was paid for it."""
        if kind == "reduction":
            paid = next((values[m] for m in _MONEY if values.get(m) is not None), None)
            if paid is not None and paid.value >= 0:
                self._refuse(row, "a reduction that is not negative", "an amount below zero",
                             "Write it with a minus sign, or leave the row out.")  # fmt: skip
                return
            if paid is not None and self.lines and self._last is not None:
                line = self.lines[-1]
                if line.price + paid.value > 0:
                    note = f"reduced by {-paid.value:f}"
                    note = note if line.note is None else f"{line.note}; {note}"
                    self.lines[-1] = replace(line, price=line.price + paid.value, note=note)
                    self._leave(row, "taken off the line above")
                    return
        self._leave(row, {"total": "sums", "tax": "taxes of the whole", "deposit": "deposits",
                          "reduction": "reductions of no one line"}[kind])  # fmt: skip
        if kind in ("total", "tax"):
            self._last = None

    def _item(self, row: GridRow, values: dict[str, Any], words: str | None) -> None:
        amounts = [values[m] for m in _MONEY if m in values]
        self._last = None
        if not amounts:
            self._leave(row, "without an amount" if words else "without an item")
            return
        if words is None:
            words = values.get("item_number") or values.get("gtin")
        if words is None:
            self._leave(row, "without an item")
            return
        if any(each.value < 0 for each in amounts) or _below_zero(values.get("count")):
            self._leave(row, "returned")
            return
        day = values.get("date") or self._day
        if day is None:
            self._refuse(row, "an empty cell", "a date in every row", "Fill the date in.", "date")
            return
        paid = paid_for(values, self._layout)
        if paid.price <= 0:
            self._leave(row, "free of charge")
            return
        currency = self._currency(row, values, amounts)
        if currency is not None:
            self.lines.append(self._line(row, values, (words, day, currency), paid))
            self._last = row.line

    def _currency(self, row: GridRow, values: dict[str, Any], amounts: list[Amount]) -> str | None:
        named = {each.currency for each in amounts if each.currency}
        if "currency" in values:
            named.add(values["currency"])
        elif not named and self._layout.currency is not None:
            return self._layout.currency
        if len(named) > 1:
            found = " and ".join(sorted(named))
            self._refuse(row, found, "one currency in a row", "Correct the row.", "currency")
            return None
        currency = named.pop() if named else self._layout.currency
        if currency is None:
            self._refuse(row, "an empty cell", "a currency in every row", "Fill it in, or tell "
                         "currency=….", "currency")  # fmt: skip
        return currency

    def _line(
        self, row: GridRow, values: dict[str, Any], known: tuple[str, date, str], paid: Paid
    ) -> PriceLine:
        words, day, currency = known
        if paid.said:
            self._leave(row, paid.said)
        value = values.get
        product = value("product")
        return PriceLine(
            line=row.line,
            raw=as_written(row),
            words=f"{words} {paid.more_words}" if paid.more_words else words,
            day=day,
            price=paid.price,
            currency=currency,
            count=paid.count,
            pack=paid.pack,
            unit=paid.unit,
            supplier=value("supplier") or self._layout.sender,
            kind=value("kind") or self._layout.price_kind or "receipt",
            tax_pct=self._tax(values, paid),
            product=None if product == words else product,
            region=value("region"),
            note=f"{value('note')}; {paid.note}"
            if paid.note and "note" in values
            else paid.note or value("note"),
            item_number=value("item_number"),
            gtin=value("gtin"),
        )

    def _tax(self, values: dict[str, Any], paid: Paid) -> Decimal | None:
        if self._layout.tax != "net" or paid.with_tax:
            return None
        rate: Decimal | None = values.get("tax_pct")
        return self._rate if rate is None else rate

    def _leave(self, row: GridRow, why: str) -> None:
        self._left_out.setdefault(why, []).append(row.line)

    def _refuse(
        self, row: GridRow, found: str, expected: str, remedy: str, meaning: str | None = None
    ) -> None:
        column = self._columns.get(meaning or "")
        self.problems.append(
            Problem(
                line=row.line,
                column=column.heading if column is not None else meaning,
                found=found if meaning else f"{found} ({quoted(as_written(row))})",
                expected=expected,
                remedy=remedy,
            )
        )

    def remarks(self) -> list[str]:
        """Say how many rows are no prices, and why, with their first lines."""
        said = []
        for why, lines in self._left_out.items():
            named = ", ".join(map(str, lines[:_MOST_NAMED]))
            more = f" and {len(lines) - _MOST_NAMED:,} more" if len(lines) > _MOST_NAMED else ""
            which = f"line{'s' if len(lines) > 1 else ''} {named}{more}"
            said.append(f"{counted(len(lines), 'row')} {why} ({which}).")
        return said


def _below_zero(count: Any) -> bool:
    return count is not None and count.value < 0
