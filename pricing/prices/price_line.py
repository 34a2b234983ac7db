"""A line of a costing with the evidence of its price."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from pricing.answer import Answer


@dataclass(frozen=True, kw_only=True)
class SeenPrice(Answer):
    """One stream price behind a figure."""

    date: date
    supplier: str | None
    product: str | None
    unit_price: float  # currency per base unit, as purchased


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
    observed: tuple[SeenPrice, ...] = ()
    age_days: int | None = None
    series: str | None = None
    series_title: str | None = None
    months: tuple[str, ...] = ()
    filled: tuple[str, ...] = ()
    held_at: str | None = None
    factor: float | None = None
    typical_error_pct: float | None = None  # of a bridged price: half are nearer than this
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
