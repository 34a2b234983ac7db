"""What both prices of a swap rest on, and how far its saving may be off."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from pricing.answer import Answer
from pricing.days import month_text
from pricing.prices.bridge_error import ErrorTable, typical_error
from pricing.prices.evidence import GridPrice, SeenPrice, weakest
from pricing.swaps.saving import Goods


@dataclass(frozen=True, kw_only=True)
class PriceEvidence(Answer):
    """A unit price on a day and what it rests on. Of a dish: per g, seen prices of all it takes."""

    unit_price: float | None  # currency per base unit, as purchased; None = missing
    base: str
    basis: str  # observed, bridged or missing
    observed: tuple[SeenPrice, ...]
    age_days: int | None
    series: str | None
    months: tuple[str, ...]
    held_at: str | None
    factor: float | None
    typical_error_pct: float | None  # half are nearer than this; None: one source, as seen


def evidence(price: GridPrice, base: str, errors: ErrorTable | None) -> PriceEvidence:
    """Return the evidence of one ingredient's price."""
    error = typical_error(errors, price)
    return PriceEvidence(
        unit_price=price.unit_price,
        base=base,
        basis=price.basis,
        observed=price.observed,
        age_days=price.age_days,
        series=price.series,
        months=tuple(map(month_text, price.months)),
        held_at=month_text(price.held_at) if price.held_at else None,
        factor=price.factor,
        typical_error_pct=error.pct if error else None,
    )


def evidence_of_dish(
    taken: Mapping[Goods, float],
    prices: Mapping[Goods, GridPrice],
    errors: ErrorTable | None,
) -> PriceEvidence:
    """Return the evidence of a g of a dish; `taken` is what a g takes, in base units of each."""
    complete = all(prices[goods].unit_price is not None for goods in taken)
    parts = {goods: amount * (prices[goods].unit_price or 0.0) for goods, amount in taken.items()}
    price = math.fsum(parts.values())
    off = saving_error(parts, prices, errors)
    ages = [age for goods in taken if (age := prices[goods].age_days) is not None]
    return PriceEvidence(
        unit_price=price if complete else None,
        base="g",
        basis=weakest(prices[goods].basis for goods in taken),
        observed=tuple(seen for goods in taken for seen in prices[goods].observed),
        age_days=max(ages, default=None),
        series=None,
        months=(),
        held_at=None,
        factor=None,
        typical_error_pct=100 * off / price if off is not None and price > 0 else None,
    )


def saving_error(
    parts: Mapping[Goods, float],
    prices: Mapping[Goods, GridPrice],
    errors: ErrorTable | None,
) -> float | None:
    """Return the typical error of a sum of `parts`, each one price times an amount of money.

    Prices of different things are taken as unrelated, so the squares add up. None: nothing is
    open, as one source alone asked each, and all count as seen.
    """
    off = []
    for goods, part in parts.items():
        error = typical_error(errors, prices[goods])
        if error is not None:
            off.append(part * error.pct / 100)
    return math.hypot(*off) if off else None
