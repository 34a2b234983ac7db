"""Finds what in force could no longer be costed if an ingredient's facts were others."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from pricing.book.connect import Connection
from pricing.book.read import rows
from pricing.measures.quantities import IngredientFacts, Quantity, missing_fact

BASE_AS_IT_WAS = "its base as it was"


@dataclass(frozen=True, kw_only=True)
class FactsAfter:
    """What would hold of an ingredient."""

    facts: IngredientFacts
    yield_pct: Decimal | None
    base_before: str | None = None  # another base than that changes what a swap's ratio means


@dataclass(frozen=True, kw_only=True)
class BrokenUse:
    """Rows in force that the facts would no longer serve."""

    ingredient_id: int
    kind: str  # of the batches: prices, dishes, measures or swaps
    batches: tuple[int, ...]  # ascending
    missing: str  # the fact they need: "density_g_per_ml", …, "the ingredient itself", or
    # BASE_AS_IT_WAS, when the ratio of a swap is per unit of that


def broken_uses(con: Connection, after: Mapping[int, FactsAfter | None]) -> list[BrokenUse]:
    """Return the uses in force that would break; None stands for an ingredient that is gone."""
    found = []
    for use in rows(con, "book/ingredient_uses", {"ingredients": sorted(after)}):
        missing = _missing(use, after[use["ingredient_id"]])
        if missing:
            found.append(
                BrokenUse(
                    ingredient_id=use["ingredient_id"],
                    kind=use["kind"],
                    batches=tuple(use["batches"]),
                    missing=missing,
                )
            )
    return found


def _missing(use: Mapping[str, object], after: FactsAfter | None) -> str | None:
    if after is None:
        return "the ingredient itself"
    if use["kind"] == "swaps" and after.base_before not in (None, after.facts.base):
        return BASE_AS_IT_WAS
    no_yield = "yield_pct" if use["needs_yield"] and after.yield_pct is None else None
    if use["dimension"] is None:
        return no_yield
    quantity = Quantity(
        amount=Decimal(1),
        dimension=str(use["dimension"]),
        measure_key=None if use["measure_key"] is None else str(use["measure_key"]),
    )
    return missing_fact(quantity, after.facts) or no_yield
