"""What the cells of a column are, and what they show of the order of dates and the decimal mark."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import partial
from itertools import islice

from ingest.tables.dates import orders_of, read_month, serial_date
from ingest.tables.grid import Cell, GridRow, text_of
from ingest.tables.numbers import marks_seen, split_money
from ingest.tables.packs import pack_words
from ingest.tables.words import unit_named
from ingest.text.gtin import is_gtin
from pricing.money import currencies_written

_SAMPLE = 400  # different cells that decide what a column is; its marks are sought in all of them


@dataclass(frozen=True, kw_only=True)
class Contents:
    """A column's cells; each share is of its filled cells, from 0 to 1."""

    filled: int
    different: int
    dates: float
    serials: float  # numbers that a spreadsheet could mean as dates
    months: float
    numbers: float  # with or without a currency
    percents: float  # of numbers from 0 to 100, with or without the sign
    gtins: float
    packs: float
    units: float
    currencies: float
    words: float  # at least three letters, and none of the above
    length: float  # letters of a cell, on average
    signs: frozenset[str]  # of currencies


def contents(rows: Sequence[GridRow], place: int) -> Contents:
    """Return what the cells in a place of these rows are."""
    cells = [row.cells[place] for row in rows if place < len(row.cells)]
    filled = [cell for cell in cells if cell or not isinstance(cell, str)]
    times = Counter(filled)
    sample = list(islice(times, _SAMPLE))
    share = partial(_share, [times[cell] for cell in sample])
    texts = [text_of(cell) for cell in sample]
    money = [split_money(text) for text in texts]
    dates = [_is_date(cell) for cell in sample]
    packs = [pack_words(text, "") is not None for text in texts]
    return Contents(
        filled=len(filled),
        different=len(times),
        dates=share(dates),
        serials=share(isinstance(c, Decimal) and serial_date(c) is not None for c in sample),
        months=share(read_month(text) is not None for text in texts),
        numbers=share(each is not None and not day for each, day in zip(money, dates, strict=True)),
        percents=share(map(_is_percent, texts)),
        gtins=share(map(is_gtin, texts)),
        packs=share(packs),
        units=share(unit_named(text) is not None for text in texts),
        currencies=share(text.rstrip(".") in currencies_written() for text in texts),
        words=share(
            sum(map(str.isalpha, text)) >= 3 and each is None and not day and not pack
            for text, each, day, pack in zip(texts, money, dates, packs, strict=True)
        ),
        length=sum(map(len, texts)) / len(texts) if texts else 0.0,
        signs=frozenset(each.sign for each in money if each is not None and each.sign),
    )


def date_orders(rows: Sequence[GridRow], place: int) -> tuple[frozenset[str] | None, str | None]:
    """Return the orders in which every date of a column can be read, and a cell that decided.

    None where no cell is in doubt; empty where two cells contradict each other.
    """
    left: frozenset[str] | None = None
    decided = None
    for cell in dict.fromkeys(_cells(rows, place)):
        orders = orders_of(cell) if isinstance(cell, str) else None
        if orders:
            both = orders if left is None else left & orders
            if left is None or both != left:
                decided = str(cell)
            left = both
    return left, decided


def decimal_marks(rows: Sequence[GridRow], places: Iterable[int]) -> set[str]:
    """Return the decimal marks that the numbers of these columns show."""
    cells = {cell for place in places for cell in _cells(rows, place) if isinstance(cell, str)}
    money = (split_money(cell) for cell in cells)
    return marks_seen(each.body for each in money if each is not None)


def example_of(rows: Sequence[GridRow], places: Iterable[int], marks: set[str]) -> str | None:
    """Return a cell of these columns whose number shows one of these marks."""
    for place in places:
        for cell in _cells(rows, place):
            money = split_money(cell) if isinstance(cell, str) else None
            if money is not None and marks_seen([money.body]) & marks:
                return str(cell)
    return None


def _cells(rows: Sequence[GridRow], place: int) -> list[Cell]:
    return [row.cells[place] for row in rows if place < len(row.cells)]


def _is_date(cell: Cell) -> bool:
    if isinstance(cell, Decimal):
        return False
    return isinstance(cell, date) or orders_of(cell) is not None


def _is_percent(text: str) -> bool:
    bare = text.removesuffix("%").strip()
    money = split_money(bare)
    if money is None or money.sign or money.body.startswith("-"):
        return False
    return text.endswith("%") or len(money.body.replace(",", ".").partition(".")[0]) <= 2


def _share(times: Sequence[int], found: Iterable[bool]) -> float:
    held = sum(number for number, each in zip(times, found, strict=True) if each)
    return held / sum(times) if times else 0.0
