"""Parts the rows of a dish's costing: costed lines, sums, the cost of a portion, other words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from typing import Any

from ingest.recipe_files.portions import read_portions
from ingest.tables.cells import Amount, Column
from ingest.tables.grid import Cell, GridRow, text_of
from ingest.tables.headings import HeadingSays, heading_says
from ingest.tables.row_kinds import first_words, row_kind
from ingest.text.readers import CellRefused
from pricing.errors import Problem

MONEY = ("price", "unit_price", "total", "amount")
_QUANTITY = ("count", "pack", "unit")


@dataclass(kw_only=True)
class CostedRow:
    """One costed line."""

    row: GridRow
    words: str
    values: dict[str, Any]
    raw_quantity: str | None  # one that is no plain number, as written


@dataclass(kw_only=True)
class CostedRows:
    """What the rows of a sheet are."""

    lines: list[CostedRow] = field(default_factory=list)
    totals: list[tuple[GridRow, Amount]] = field(default_factory=list)
    portion: list[tuple[GridRow, Amount]] = field(default_factory=list)  # what one costs
    portions: Fraction | None = None
    problems: list[Problem] = field(default_factory=list)
    others: list[GridRow] = field(default_factory=list)


def costed_rows(
    above: Sequence[GridRow], rows: Sequence[GridRow], columns: dict[str, Column]
) -> CostedRows:
    """Return the rows of a table that costs a dish, and of what stands above it, by what they are.

    A line has words, an amount of money, and a quantity or a pack. A line without either counts
    in the sum as long as no sum stands above it; below one it may be a selling price or a margin.
    """
    found = CostedRows()
    for row in above:
        _around(found, row, columns)
    for row in rows:
        values, refused = _read(row, columns)
        words = values.get("words") or values.get("ingredient") or values.get("product")
        label = words or first_words(row.cells)
        if any(kind for kind, _ in _labels(row)) or row_kind(label) is not None:
            _around(found, row, columns, values)
            continue
        raw = _raw_quantity(row, columns, refused)
        has_quantity = raw is not None or any(each in values for each in _QUANTITY)
        money = [each for each in MONEY if each in values]
        wrong = [(why, column) for why, column in refused if column.heading != _count(columns)]
        meant = has_quantity and (money or any(_is_money(c, columns) for _, c in wrong))
        if words and meant and wrong:
            found.problems += [why.problem(row.line, column.heading) for why, column in wrong]
        elif words and (meant or (money and not found.totals and not found.portion)):
            found.lines.append(CostedRow(row=row, words=words, values=values, raw_quantity=raw))
        else:
            _around(found, row, columns, values)
    return found


def says_portion(text: str) -> bool:
    """Tell whether words name the cost of a portion.

    >>> says_portion("Cost per portion (EUR):"), says_portion("Butter"), says_portion("Portions")
    (True, False, False)
    """
    says = _says(text)
    return says.whole and says.meanings[:1] == ("amount",)


def portions_said(rows: Sequence[GridRow]) -> Fraction | None:
    """Return the number of portions that one of these rows states."""
    return next((each for row in rows if (each := _portions(row)) is not None), None)


def _around(
    found: CostedRows, row: GridRow, columns: dict[str, Column],
    values: dict[str, Any] | None = None,
) -> None:  # fmt: skip
    """Take what a row says that is no line: a sum, the cost of a portion, how many there are."""
    labels = list(_labels(row))
    for kind, place in labels:
        amount = _amount(row, kind, place, columns, {} if len(labels) > 1 else values or {})
        if amount is not None and kind == "portion":
            found.portion.append((row, amount))
        elif amount is not None:
            found.totals.append((row, amount))
            beside = (values or {}).get("amount")
            if beside is not None and "total" in columns:
                found.portion.append((row, beside))
    if not labels:
        found.portions = found.portions or _portions(row)
        found.others.append(row)


def _labels(row: GridRow) -> Iterator[tuple[str, int]]:
    """Yield the words of a row that name a sum or the cost of a portion, and their places."""
    for place, cell in enumerate(row.cells):
        if not isinstance(cell, str) or not any(map(str.isalpha, cell)):
            continue
        name = cell.partition(":")[0]
        if says_portion(name):
            yield "portion", place
        elif row_kind(name) == "total" or _is_total(name):
            yield "total", place


def _is_total(text: str) -> bool:
    says = _says(text)
    return says.whole and says.meanings == ("total",)


def _says(text: str) -> HeadingSays:
    return heading_says(" ".join(text.split()).rstrip(" :="))


def _amount(
    row: GridRow, kind: str, place: int, columns: dict[str, Column], values: dict[str, Any]
) -> Amount | None:
    """Return the amount that a label names: in its own cell, under its column, or behind it."""
    money = next((columns[each] for each in MONEY if each in columns), None)
    if money is None:
        return None
    own = str(row.cells[place]).partition(":")[2].strip()
    if own:
        return _as_money(own, money)
    wanted = ("amount", "total") if kind == "portion" else ("total", "amount")
    for meaning in wanted:
        if isinstance(values.get(meaning), Amount) and columns[meaning].place > place:
            return values[meaning]  # type: ignore[no-any-return]
    behind = [_as_money(cell, money) for cell in row.cells[place + 1 :] if cell != ""]
    amounts = [each for each in behind if each is not None]
    if not amounts:
        return None
    return amounts[0] if not values else amounts[-1]


def _as_money(cell: Cell, column: Column) -> Amount | None:
    value = column.of(cell)
    return value if isinstance(value, Amount) and value.value > 0 else None


def _portions(row: GridRow) -> Fraction | None:
    cells = [text_of(cell) for cell in row.cells if cell != ""]
    if any("amount" in _says(cell.partition(":")[0]).meanings for cell in cells):
        return None
    makes = read_portions(" ".join(cells))
    return makes.portions if makes.served and makes.portions else None


def _read(
    row: GridRow, columns: dict[str, Column]
) -> tuple[dict[str, Any], list[tuple[CellRefused, Column]]]:
    values: dict[str, Any] = {}
    refused = []
    for meaning, column in columns.items():
        value = column.of(row.cells[column.place]) if column.place < len(row.cells) else None
        if isinstance(value, CellRefused):
            refused.append((value, column))
        elif value is not None:
            values[meaning] = value
    return values, refused


def _count(columns: dict[str, Column]) -> str | None:
    return columns["count"].heading if "count" in columns else None


def _raw_quantity(
    row: GridRow, columns: dict[str, Column], refused: Sequence[tuple[CellRefused, Column]]
) -> str | None:
    """Return a quantity that is no plain number, such as "1/2 bunch"."""
    column = columns.get("count")
    if column is None or not any(each is column for _, each in refused):
        return None
    return text_of(row.cells[column.place])


def _is_money(column: Column, columns: dict[str, Column]) -> bool:
    return any(columns.get(each) is column for each in MONEY)


def sum_of(amounts: Sequence[Amount]) -> Decimal:
    """Return the sum of amounts."""
    return sum((each.value for each in amounts), Decimal(0))
