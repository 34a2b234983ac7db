"""Reads each column of a table once for each different cell, as its layout says."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import lru_cache
from typing import Any, NamedTuple, NoReturn

from ingest.tables.dates import (
    orders_of,
    read_date,
    read_month,
    serial_date,
    year_out_of_reach,
)
from ingest.tables.grid import Cell, text_of
from ingest.tables.headings import heading_says
from ingest.tables.layout import Layout
from ingest.tables.numbers import read_number, split_money
from ingest.tables.packs import pack_words, per_unit
from ingest.tables.settle import currency_of
from ingest.tables.table import Table
from ingest.tables.words import MEASURED, row_words, unit_named
from ingest.text.fold import fold
from ingest.text.gtin import is_gtin
from ingest.text.readers import CellRefused
from ingest.text.sentences import quoted
from pricing.errors import MeasureRefused
from pricing.printed.amount import read_printed_amount

_NO_PRICE = frozenset(("-", "–", "—", "--", "n/a", "na", "?", "."))
_PRINTED_NUMBER = re.compile(r"[0-9]+(?:[.,'’][0-9]+)*")
_LONG_AGO = 1980  # the first year of a date that is read
_DATE_WAYS = {"day-first": "31.12.2026", "month-first": "12/31/2026", "year-first": "2026-12-31"}


class Amount(NamedTuple):
    """An amount of money in a cell."""

    value: Decimal
    currency: str | None  # where the cell names one
    per: str | None
    words: str | None = None  # as printed, where they say more than the amount: "about 3.50"


class Count(NamedTuple):
    """How many or how much: of packs, or of a unit."""

    value: Decimal
    unit: str | None  # "kg", "each"; "" for packages


@dataclass(slots=True)
class Column:
    """One column that is read."""

    heading: str
    place: int
    read: Callable[[Cell], Any]  # of a filled cell; raises CellRefused
    known: dict[Cell, Any]  # cell → its value, or its CellRefused

    def of(self, cell: Cell) -> Any:
        """Return the value of a cell: None where it says nothing, a CellRefused where wrong."""
        if not cell and isinstance(cell, str):
            return None
        if cell in self.known:
            return self.known[cell]
        try:
            value = self.read(cell)
        except CellRefused as refused:
            value = refused
        self.known[cell] = value
        return value


def columns_of(table: Table, layout: Layout) -> dict[str, Column]:
    """Return meaning → the column with it; a heading that is gone has none."""
    readers = _Readers(layout)
    found = {}
    for meaning, place in layout.places(table).items():
        heading = table.headings[place]
        read = readers.of(meaning, heading)
        found[meaning] = Column(heading=heading, place=place, read=read, known={})
    return found


class _Readers:
    """The reader of each meaning's cells, in one layout."""

    def __init__(self, layout: Layout) -> None:
        self._layout = layout
        self._plain = re.compile(
            {",": "[0-9]+(?:,[0-9]+)?", ".": r"[0-9]+(?:\.[0-9]+)?"}.get(layout.decimal, "[0-9]+")
        )

    def of(self, meaning: str, heading: str) -> Callable[[Cell], Any]:
        if meaning == "amount" and self._layout.kind == "printed":
            return self._printed
        if meaning in ("price", "unit_price", "total", "amount"):
            return self._money
        if meaning == "pack":
            unit = heading_says(heading).per
            return lambda cell: self._pack(cell, unit)
        if meaning == "count":
            unit = heading_says(heading).per
            return lambda cell: self._count(cell, unit)
        readers: dict[str, Callable[[Cell], Any]] = {
            "date": self._date,
            "published_on": self._date,
            "month": self._month,
            "tax_pct": self._percent,
            "yield_pct": self._percent,
            "trim_pct": self._percent,
            "currency": self._currency,
            "gtin": _gtin,
            "kind": _kind,
        }
        return readers.get(meaning, _words)

    def _date(self, cell: Cell) -> date | None:
        if isinstance(cell, date):
            return cell
        day = None
        if isinstance(cell, Decimal):
            day = serial_date(cell) or read_date(text_of(cell), "")
        else:
            day = read_date(cell, self._layout.date_order)
        if day is None:
            _refuse_year(cell)
            order = self._layout.date_order
            if order or not isinstance(cell, str) or orders_of(cell) is None:
                expected = f"a date, {order or 'year-first'}, such as "
                expected += _DATE_WAYS.get(order, "2026-12-31")
                _refuse(cell, expected, "Correct the date, or tell the order: date=….")
            _refuse(
                cell, "an order of day and month", "Tell it: date=day-first or date=month-first."
            )
        return day

    def _month(self, cell: Cell) -> date:
        if isinstance(cell, date):
            return cell.replace(day=1)
        month = read_month(text_of(cell)) or read_date(text_of(cell), self._layout.date_order)
        if month is None:
            _refuse(cell, "a month such as 2026-10 or October 2026", "Correct the month.")
        return month.replace(day=1)

    def _number(self, body: str, cell: Cell) -> Decimal:
        value = read_number(body, self._layout.decimal)
        if value is None:
            mark = {".": "a decimal point", ",": "a decimal comma"}.get(self._layout.decimal)
            expected = f"a number with {mark}" if mark else "a number"
            _refuse(cell, expected, "Correct the cell, or tell decimal=point or decimal=comma.")
        return value

    def _money(self, cell: Cell) -> Amount | None:
        if isinstance(cell, Decimal):
            return Amount(cell, None, None)
        if isinstance(cell, str) and self._plain.fullmatch(cell):  # most cells, and quick to read
            return Amount(Decimal(cell.replace(",", ".")), None, None)
        text = text_of(cell)
        if text.casefold() in _NO_PRICE or row_words().get(fold(text)) == "unpriced":
            return None
        money = split_money(text)
        if money is None or isinstance(cell, date):
            _refuse(cell, "an amount of money", "Correct the cell; an empty one is left out.")
        currency = None
        if money.sign is not None:
            currency = currency_of(money.sign, self._layout.currency or "")
            if currency is None:
                _refuse(cell, "a currency that is certain", "Tell it: currency=….")
        return Amount(value=self._number(money.body, cell), currency=currency, per=money.per)

    def _printed(self, cell: Cell) -> Amount | None:
        """Read an amount as it was printed: "about 3.50" keeps its words."""
        try:
            return self._money(cell)
        except CellRefused:
            text = " ".join(text_of(cell).split())
            numbers = _PRINTED_NUMBER.findall(text)
            if isinstance(cell, date) or len(numbers) != 1:
                raise
            value = self._number(numbers[0], cell)
            words = text.replace(numbers[0], f"{value:f}") if "," in numbers[0] else text
            try:
                held = read_printed_amount(words)
            except MeasureRefused as refused:
                raise CellRefused(refused.found, refused.expected, refused.remedy) from None
            if held.amount != value:
                raise
            return Amount(value, None, None, text if _reads_so(text, value) else words)

    def _count(self, cell: Cell, unit: str | None) -> Count:
        named = unit.partition(" ")[2] if unit else None
        if isinstance(cell, Decimal):
            return Count(value=cell, unit=named)
        text = text_of(cell).rstrip("x×").strip()
        number, _, word = text.rpartition(" ")
        if split_money(text) is None:
            if number and unit_named(word) is not None:
                return Count(value=self._number(number, cell), unit=unit_named(word))
            packed = pack_words(text, self._layout.decimal)
            if packed is None or " x " in packed:
                _refuse(
                    cell, "how many or how much", "Write a number, with its unit if it has one."
                )
            amount, _, named = packed.partition(" ")
            return Count(value=Decimal(amount), unit=named)
        return Count(value=self._number(text, cell), unit=named)

    def _pack(self, cell: Cell, unit: str | None) -> Decimal | str:
        """Return a pack in words, or the number alone where a column beside it has the unit."""
        text = text_of(cell)
        packed = pack_words(text, self._layout.decimal)
        if packed is not None:
            return packed
        if split_money(text) is None:
            return text
        value = self._number(text, cell)
        if unit is not None and value > 0:
            return f"{value:f} {unit.partition(' ')[2]}"
        return value

    def _percent(self, cell: Cell) -> Decimal:
        if isinstance(cell, Decimal):  # a cell that shows 7 % holds 0.07
            value = cell * 100 if 0 < cell < 1 else cell
        else:
            bare = text_of(cell).replace("%", "").strip()
            value = self._number(bare, cell)
        if not 0 <= value <= 100:
            _refuse(cell, "a percentage from 0 to 100", "Correct the cell.")
        return value.normalize() if value == value.to_integral() and value else value

    def _currency(self, cell: Cell) -> str:
        found = currency_of(text_of(cell).strip(), self._layout.currency or "")
        if found is None:
            _refuse(cell, "an ISO 4217 code such as EUR or GBP", "Correct the cell.")
        return found


def _reads_so(text: str, value: Decimal) -> bool:
    """Tell whether a printed amount is this one by its own mark before decimals."""
    try:
        return read_printed_amount(text).amount == value
    except MeasureRefused:
        return False


@lru_cache(maxsize=1000)
def unit_of(text: str | None) -> tuple[str | None, str | None]:
    """Return the unit a cell names and, where it is a measured one, the pack that one of it is.

    >>> unit_of("Kilo"), unit_of("Stk."), unit_of("500 g"), unit_of("Karton"), unit_of(None)
    (('kg', '1 kg'), ('each', None), (None, '500 g'), ('', None), (None, None))
    """
    if text is None:
        return None, None
    unit = unit_named(text)
    if unit is None:
        return None, per_unit(text)
    return unit, f"1 {unit}" if unit in MEASURED else None


def _gtin(cell: Cell) -> str | None:
    """Return a GTIN whose check digit is right, with the zeros that a number cell loses."""
    text = text_of(cell).replace(" ", "")
    if isinstance(cell, Decimal) and len(text) < 13:
        text = next((t for t in (text, text.zfill(12), text.zfill(13)) if is_gtin(t)), text)
    return text if is_gtin(text) else None


def _kind(cell: Cell) -> str:
    word = fold(text_of(cell))
    if word not in ("shelf", "offer", "receipt", "invoice", "quote"):
        _refuse(cell, "one of shelf, offer, receipt, invoice, quote", "Write one of these.")
    return word


def _words(cell: Cell) -> str | None:
    return " ".join(text_of(cell).split()) or None


def _refuse_year(cell: Cell) -> None:
    """Refuse a date of a year that no list is of, which another order would not mend."""
    year = year_out_of_reach(cell) if isinstance(cell, str) else None
    if year is not None:
        ahead = "lies ahead" if year > _LONG_AGO else "is too long ago"
        raise CellRefused(
            f"{quoted(text_of(cell))}, which {ahead}", "a day up to today", "Correct the year."
        )


def _refuse(cell: Cell, expected: str, remedy: str) -> NoReturn:
    raise CellRefused(quoted(text_of(cell)), expected, remedy)
