"""Unit prices of ingredients on dates, each with the evidence behind it."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any

from pricing.book.connect import Connection
from pricing.book.read import rows, settings
from pricing.prices.rule import Rule, ask_pairs, grid_rows

Pair = tuple[int, date]  # ingredient id, date


@dataclass(frozen=True, kw_only=True)
class StreamPrice:
    """One supplier's (and product's) price behind a figure."""

    date: date
    supplier: str | None
    product: str | None
    unit_price: float  # currency per g, ml or each, as purchased


@dataclass(frozen=True, kw_only=True)
class GridPrice:
    """The unit price of an ingredient on a date, with its evidence."""

    on_date: date
    unit_price: float | None  # currency per g, ml or each, as purchased; None = missing
    basis: str  # observed, bridged or missing
    d0: date | None  # last day seen on or before on_date
    d1: date | None  # first day seen after it, where it was needed
    u0: float | None  # typical price on d0, where d0 is not fresh
    u1: float | None  # typical price on d1
    series: str | None  # that moved the price
    anchors: tuple[date, ...]  # the days whose typical prices the series moved: d0, d1 or both
    months: tuple[date, ...]  # first days of the index months used, in order
    filled: tuple[date, ...]  # of these, months that took an earlier month's value
    held_at: date | None  # last month of the series, where a later one was needed
    observed: tuple[StreamPrice, ...]

    @property
    def factor(self) -> float | None:
        """Unit price ÷ typical price on d0 (on d1 when there is no d0), for a bridged price."""
        start = self.u0 if self.u0 is not None else self.u1
        if self.basis != "bridged" or self.unit_price is None or start is None:
            return None
        return self.unit_price / start

    @property
    def age_days(self) -> int | None:
        """on_date − d0 in days; negative when only a later price exists."""
        seen = self.d0 or self.d1
        return None if seen is None else (self.on_date - seen).days


def grid_prices(con: Connection, rule: Rule, pairs: Collection[Pair]) -> dict[Pair, GridPrice]:
    """Price every (ingredient, date) pair, with evidence."""
    ask_pairs(con, pairs)
    priced = grid_rows(con, rule, evidence=True)
    names = {row["stream_id"]: row for row in rows(con, "prices/stream_names")} if priced else {}
    filled = _filled_months(con, priced)
    return {
        (row["ingredient_id"], row["on_date"]): _grid_price(row, names, filled) for row in priced
    }


def typical_prices(con: Connection, currency: str, pairs: Collection[Pair]) -> dict[Pair, float]:
    """Return the default-basis unit price of each pair that has one (currency per base unit)."""
    if not pairs:
        return {}
    ask_pairs(con, pairs)
    rule = Rule(currency=currency, fresh_days=settings(con).fresh_days)
    return {
        (row["ingredient_id"], row["on_date"]): row["unit_price"]
        for row in grid_rows(con, rule, evidence=False)
        if row["unit_price"] is not None
    }


def _months(row: dict[str, Any]) -> list[date]:
    return sorted({m for m in (row["month0"], row["month"], row["month1"]) if m is not None})


def _filled_months(con: Connection, priced: Iterable[dict[str, Any]]) -> set[tuple[str, date]]:
    wanted = {(row["series"], m) for row in priced if row["series"] for m in _months(row)}
    if not wanted:
        return set()
    series, months = zip(*sorted(wanted), strict=True)
    found = rows(con, "prices/filled_months", {"series": list(series), "months": list(months)})
    return {(row["series"], row["month"]) for row in found}


def _grid_price(
    row: dict[str, Any], names: dict[int, dict[str, Any]], filled: set[tuple[str, date]]
) -> GridPrice:
    seen = [*(row["seen"] or ()), *(row["seen_later"] or ())]
    months = _months(row) if row["series"] else []
    last = row["last_month"]
    ways = {1: ("d0", "d1"), 2: ("d0", "d1"), 3: ("d0",), 4: ("d0",), 5: ("d1",), 6: ("d1",)}
    return GridPrice(
        on_date=row["on_date"],
        unit_price=row["unit_price"],
        basis=row["basis"],
        d0=row["d0"],
        d1=row["d1"],
        u0=row["u0"],
        u1=row["u1"],
        series=row["series"],
        anchors=tuple(row[day] for day in ways.get(row["way"], ())),
        months=tuple(months),
        filled=tuple(m for m in months if (row["series"], m) in filled),
        held_at=last if months and months[-1] > last else None,
        observed=tuple(
            StreamPrice(
                date=price["observed_on"],
                supplier=names[price["stream_id"]]["supplier"],
                product=names[price["stream_id"]]["product"],
                unit_price=price["unit_price"],
            )
            for price in seen
        ),
    )
