"""Unit prices of ingredients on dates, each with the evidence behind it."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from pricing.answer import Answer
from pricing.book.connect import Connection
from pricing.book.read import read_settings
from pricing.prices.rule import Rule, ask_pairs, evidence_rows, grid_rows

Pair = tuple[int, date]  # ingredient id, date

_WEAKEST_FIRST = ("missing", "bridged", "observed")
# the days whose typical prices a series moved, by the way of queries/prices/which_price_counts.sql
_ANCHORS = {1: ("d0", "d1"), 2: ("d0", "d1"), 3: ("d0",), 4: ("d0",), 5: ("d1",), 6: ("d1",)}


@dataclass(frozen=True, kw_only=True)
class SeenPrice(Answer):
    """The price that one supplier asked (for one product), behind a figure."""

    date: date
    supplier: str | None
    product: str | None
    unit_price: float  # currency per g, ml or each, as purchased, as seen
    moved: float = 1.0  # the factor by which a series moved it; 1 where it counts as seen
    series: str | None = None  # that moved it
    series_title: str | None = None
    share: float = 1.0  # of the weights of its end: each end adds up to 1


@dataclass(frozen=True, kw_only=True)
class GridPrice:
    """The unit price of an ingredient on a date, with its evidence."""

    on_date: date
    unit_price: float | None  # currency per g, ml or each, as purchased; None = missing
    basis: str  # observed, bridged or missing
    market: str | None  # that counted: shop, trade or any; None: never seen
    moved_share: float | None  # of the price, by value, that rests on moved prices
    spread: float | None  # standard error of the mean of its sources ÷ price; None: one source
    d0: date | None  # last day seen on or before on_date
    d1: date | None  # first day seen after it, where it was needed
    u0: float | None  # typical price on d0
    u1: float | None  # typical price on d1
    series: str | None  # that moved the price
    series_title: str | None
    named_series: str | None  # that the ingredient names
    anchors: tuple[date, ...]  # the days whose typical prices the series moved: d0, d1 or both
    months: tuple[date, ...]  # first days of the index months used, in order
    filled: tuple[date, ...]  # of these, months that took an earlier month's value
    held_at: date | None  # last month of the series, where a later one was needed
    observed: tuple[SeenPrice, ...]

    @property
    def factor(self) -> float | None:
        """Unit price ÷ typical price on d0 (on d1 where it rests on d1 alone), if bridged."""
        start = self.u1 if self.anchors == (self.d1,) else self.u0
        if self.basis != "bridged" or self.unit_price is None or start is None:
            return None
        return self.unit_price / start

    @property
    def age_days(self) -> int | None:
        """on_date − d0 in days; negative when only a later price exists."""
        seen = self.d0 or self.d1
        return None if seen is None else (self.on_date - seen).days


def weakest(bases: Iterable[str]) -> str:
    """Return the weakest of some bases: missing, then bridged, then observed. Of none: missing."""
    return min(bases, key=_WEAKEST_FIRST.index, default="missing")


def grid_prices(
    con: Connection, rule: Rule, pairs: Collection[Pair], markets: Mapping[int, str] | None = None
) -> dict[Pair, GridPrice]:
    """Price every (ingredient, date) pair, with evidence; `markets`: settled, by ingredient."""
    return {
        (row["ingredient_id"], row["on_date"]): _grid_price(row)
        for row in evidence_rows(con, rule, ask_pairs(pairs, markets))
    }


def market_prices(
    con: Connection, currency: str, market: str, pairs: Collection[Pair]
) -> dict[Pair, float]:
    """Return the default-basis unit price of each pair that has one in a market (per base unit)."""
    if not pairs:
        return {}
    rule = Rule.of(read_settings(con), currency=currency)
    asked = ask_pairs(pairs, dict.fromkeys((each for each, _ in pairs), market))
    return {
        (row["ingredient_id"], row["on_date"]): row["unit_price"]
        for row in grid_rows(con, rule, asked)
        if row["unit_price"] is not None
    }


def _grid_price(row: dict[str, Any]) -> GridPrice:
    filled = {  # month → whether it took an earlier month's value
        row[month]: row[mark]
        for month, mark in (("month", "filled"), ("month0", "filled0"), ("month1", "filled1"))
        if row[month] is not None
    }
    months = tuple(sorted(filled))
    last = row["last_month"]
    return GridPrice(
        **{name: row[name] for name in _AS_IN_THE_ROW},
        anchors=tuple(row[day] for day in _ANCHORS.get(row["way"], ())),
        months=months,
        filled=tuple(month for month in months if filled[month]),
        held_at=last if months and months[-1] > last else None,
        observed=tuple(SeenPrice(**seen) for seen in row["observed"] or ()),
    )


_AS_IN_THE_ROW = (
    "on_date", "unit_price", "basis", "market", "moved_share", "spread", "d0", "d1", "u0", "u1",
    "series", "series_title", "named_series",
)  # fmt: skip
