"""Which prices are worth a look before figures are printed: by what a fresh one would do."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import Any

from pricing.book.connect import Connection
from pricing.book.read import rows
from pricing.change.effects import PerPortion
from pricing.prices.bridge_error import (
    DAYS_A_MONTH,
    EDGES,
    ErrorTable,
    gap_class,
    national_table,
    typical_error,
)
from pricing.prices.evidence import GridPrice
from pricing.reprint.records import PriceToCheck

NO_PRICE_PCT = 100.0  # a figure without one of its prices cannot be had at all


@dataclass(frozen=True, kw_only=True)
class _Weight:
    """What figures rest on one ingredient."""

    figures: int
    share: float  # of the cost of these figures, summed
    off_pct: float

    @property
    def worth(self) -> float:
        return self.share * self.off_pct


def prices_to_check(
    con: Connection,
    asked: tuple[str, date],
    taken: Iterable[PerPortion],
    prices: Mapping[int, GridPrice],
    names: Mapping[int, tuple[str, str | None]],
    table: ErrorTable,
) -> list[PriceToCheck]:
    """Return the prices behind figures of a currency that are not of the day itself.

    `asked`: currency and day; `taken`: what a portion of each figure takes; `prices`: on the day,
    by ingredient.
    """
    currency, on = asked
    weights = _weights(list(taken), prices, table)
    last = _last_seen(con, currency, on, {each: prices[each] for each in weights})
    found = []
    for each, weight in weights.items():
        seen = last.get(each)
        if weight.worth <= 0 or (seen is not None and seen["seen_on"] == on):
            continue
        told = {name: seen[name] if seen else None for name in _AS_SEEN}
        found.append(
            PriceToCheck(
                ingredient=names[each][0],
                currency=currency,
                last_price=seen["price"] if seen else None,
                age_days=(on - seen["seen_on"]).days if seen else None,
                worth=weight.worth,
                figures=weight.figures,
                share=weight.share / weight.figures,
                off_pct=weight.off_pct,
                **told,
            )
        )
    return found


_AS_SEEN = ("supplier", "pack", "seen_on", "product", "kind", "region", "tax_pct")


def _weights(
    taken: list[PerPortion], prices: Mapping[int, GridPrice], table: ErrorTable
) -> dict[int, _Weight]:
    figures: dict[int, int] = {}
    shares: dict[int, float] = {}
    for portion in taken:
        costs = {
            each: (quantity or 0.0) * (prices[each].unit_price or 0.0)
            for each, quantity in portion.items()
        }
        whole = sum(costs.values())
        for each, cost in costs.items():
            lacks = prices[each].unit_price is None
            share = 1.0 if lacks else cost / whole if whole > 0 else 0.0
            figures[each] = figures.get(each, 0) + 1
            shares[each] = shares.get(each, 0.0) + share
    return {
        each: _Weight(figures=many, share=shares[each], off_pct=may_be_off_pct(prices[each], table))
        for each, many in figures.items()
    }


def may_be_off_pct(price: GridPrice, table: ErrorTable) -> float:
    """Return how far off a price may be, in % of it: half of such prices were nearer.

    A moved price: what moving over such a time left open, and how far its sources lie apart. One
    that counts as seen: what holding a price for its age left open (national series; under the
    first class of ages in proportion to the age), and how far its sources lie apart.
    """
    if price.unit_price is None:
        return NO_PRICE_PCT
    known = typical_error(table, price)
    pct = known.pct if known else 0.0
    return pct if price.anchors else math.hypot(pct, held_pct(price.age_days or 0))


def held_pct(age_days: int) -> float:
    """Return how far off a price held for so many days typically is, in % of it."""
    months = max(0, age_days) / DAYS_A_MONTH
    return _held()[gap_class(months)] * min(1.0, months / EDGES[0])


@cache
def _held() -> dict[int | None, float]:
    return {row.up_to_months: row.hold_pct for row in national_table() if row.ends == "one"}


def _last_seen(
    con: Connection, currency: str, on: date, prices: Mapping[int, GridPrice]
) -> dict[int, dict[str, Any]]:
    asked = {
        "ingredients": list(prices),
        "markets": [price.market or "any" for price in prices.values()],
        "currency": currency,
        "on": on,
    }
    return {row["ingredient_id"]: row for row in rows(con, "reprint/last_seen", asked)}
