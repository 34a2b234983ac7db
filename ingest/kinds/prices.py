"""Rules of a prices file: what the book holds is not stored again, nothing far from expected is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any

from ingest.kinds.checked import Checked, Options, Stored
from ingest.kinds.kitchen import Kitchen
from ingest.kinds.price_rows import KEY, PriceRow, read_prices
from ingest.kinds.unusual import refuse_unusual
from ingest.text.header import Heading
from ingest.text.rows import Row
from ingest.text.sentences import counted
from pricing.book.connect import Connection
from pricing.book.known import known_prices
from pricing.book.read import read_settings


def check(con: Connection, rows: Sequence[Row], heading: Heading, options: Options) -> Checked:
    """Return what a prices file adds to the book."""
    return check_rows(con, rows, Kitchen(con), options)


def check_rows(con: Connection, rows: Sequence[Row], kitchen: Kitchen, options: Options) -> Checked:
    """Return what rows of prices add to the book; the kitchen may know more than the book."""
    checked = Checked()
    prices = read_prices(kitchen, rows, options.today, checked)
    once: dict[tuple[Any, ...], PriceRow] = {}
    for price in prices:
        once.setdefault(price.key, price)
    in_book = places_in_book(con, list(once.values()))
    new = [price for place, price in enumerate(once.values()) if place not in in_book]
    fresh = {price.key for price in new}
    checked.already = sum(price.key not in fresh for price in prices)
    usual = refuse_unusual(con, new, options, checked)
    kept = {price.key for price in usual}
    _leave_out_copies(prices, fresh - kept, checked)
    checked.remarks += _other_currencies(usual, read_settings(con).currency)
    checked.added = len(usual)
    checked.already += sum(price.key in kept for price in prices) - len(usual)
    checked.store = lambda con: _store(usual)
    return checked


def places_in_book(con: Connection, prices: Sequence[PriceRow]) -> set[int]:
    """Return the places, from 0, of the prices that the book holds already."""
    return known_prices(con, _asked([price.key for price in prices]))


def _asked(keys: Sequence[tuple[Any, ...]]) -> dict[str, list[Any]]:
    """Return the keys as columns."""
    if not keys:
        return {name: [] for name in KEY}
    columns = zip(*keys, strict=True)
    return {name: list(column) for name, column in zip(KEY, columns, strict=True)}


def _leave_out_copies(prices: Sequence[PriceRow], refused: set[Any], checked: Checked) -> None:
    """A second copy of a refused row is refused with it."""
    if refused:
        bad = checked.bad_lines()
        copies = [p.row for p in prices if p.key in refused and p.row.line not in bad]
        checked.leave_out(copies, "the same price on another line was refused")


def _other_currencies(prices: Sequence[PriceRow], own: str) -> list[str]:
    """Say which prices the book takes and does not count: money is never converted."""
    others = Counter(price.row.value["currency"] for price in prices)
    return [
        f"{counted(many, 'price')} in {currency}: kept, but no costing counts "
        f"{'it' if many == 1 else 'them'}, for the book's currency is {own} and money is never "
        "converted."
        for currency, many in sorted(others.items())
        if currency != own
    ]


def _store(prices: Sequence[PriceRow]) -> Stored:
    value = [price.row.value for price in prices]
    columns: dict[str, list[Any]] = {
        "line": [price.row.line for price in prices],
        "raw": [price.row.raw for price in prices],
        **_asked([price.key for price in prices]),
        **{
            name: [each[name] for each in value]
            for name in ("pack", "supplier", "region", "product", "source", "note")
        },
    }
    return Stored(tables={"observation": columns}, touched=frozenset(columns["ingredient_id"]))
