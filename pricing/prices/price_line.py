"""A line of a costing with the evidence of its price."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from pricing.answer import Answer
from pricing.days import month_text
from pricing.prices.bridge_error import TypicalError
from pricing.prices.evidence import GridPrice, SeenPrice


@dataclass(frozen=True, kw_only=True)
class CostLine(Answer):
    """One line of a costing (contract §3). Money in the costing's currency, per batch."""

    ingredient: str  # or "dish:NAME"
    quantity: float  # as written, in `unit`
    unit: str
    state: str
    as_purchased: float | None  # in `base`, per batch; None for a sub-recipe
    base: str | None  # g, ml or each
    unit_price: float | None  # per base unit
    cost: float | None
    share: float | None  # of the priced total
    pantry: bool
    basis: str  # observed, bridged or missing
    market: str | None = None  # whose prices counted: shop, trade or any
    moved_share: float | None = None  # of the cost, by value, that rests on moved prices
    observed: tuple[SeenPrice, ...] = ()
    age_days: int | None = None
    series: str | None = None
    series_title: str | None = None
    months: tuple[str, ...] = ()
    filled: tuple[str, ...] = ()
    held_at: str | None = None
    factor: float | None = None
    spread_pct: float | None = None  # standard error of the mean of its sources; None: one source
    typical_error_pct: float | None = None  # half are nearer than this; None: one source, as seen
    typical_error_from: str | None = None  # "book" (its own held-out prices) or "national"
    anchors: tuple[date, ...] = ()  # the days whose prices the series moved, earlier first
    reason: str | None = None
    version: str | None = None  # of a sub-recipe
    version_in_force: bool | None = None
    lines: tuple[CostLine, ...] = ()

    def as_json(self) -> dict[str, object]:
        answer = super().as_json()
        if not self.lines:  # keys of a sub-recipe only
            for key in ("version", "version_in_force", "lines"):
                del answer[key]
        return answer

    def ingredient_lines(self) -> Iterator[CostLine]:
        """Yield this line, or the ingredient lines of the sub-recipe it stands for."""
        if not self.lines:
            yield self
        for line in self.lines:
            yield from line.ingredient_lines()


def evidence_of(price: GridPrice, error: TypicalError | None = None) -> dict[str, Any]:
    """Return the fields of a line that say what its price rests on, and how far it may be off."""
    return {
        "market": price.market,
        "moved_share": price.moved_share,
        "observed": price.observed,
        "age_days": price.age_days,
        "series": price.series,
        "series_title": price.series_title,
        "months": tuple(month_text(month) for month in price.months),
        "filled": tuple(month_text(month) for month in price.filled),
        "held_at": month_text(price.held_at) if price.held_at else None,
        "factor": price.factor,
        "spread_pct": None if price.spread is None else 100 * price.spread,
        "typical_error_pct": error.pct if error else None,
        "typical_error_from": error.source if error else None,
        "anchors": price.anchors,
    }
