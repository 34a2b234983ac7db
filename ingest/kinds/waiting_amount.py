"""Reads how much a recipe line asks for that waited, once its ingredient is decided on."""

from __future__ import annotations

from decimal import Decimal

from ingest.kinds.kitchen import Kitchen
from pricing.book.known import KnownIngredient
from pricing.errors import MeasureRefused
from pricing.measures.quantities import missing_fact
from pricing.measures.read import Quantity, read_pack, read_quantity

SOME = "some"  # the unit of a line without an amount


def decided_amount(
    written: tuple[str, str], pack: str | None, ingredient: KnownIngredient, kitchen: Kitchen
) -> tuple[Quantity, tuple[str, str]]:
    """Return the amount of a line, and its quantity and unit as they are to be kept.

    A line without an amount takes the pack of the decision as its amount. Raises MeasureRefused.
    """
    own = list(kitchen.facts(ingredient).grams_by_measure)
    quantity, unit = written
    if unit != SOME or SOME in own or pack is None:
        return read_quantity(quantity, unit, kitchen.system, own), written
    amount = read_pack(pack, kitchen.system, own)
    return amount, as_written(amount)


def as_written(amount: Quantity) -> tuple[str, str]:
    """Return an amount as the quantity and unit of a recipe line."""
    return f"{amount.amount.normalize():f}", amount.measure_key or amount.dimension


def missing_of(
    written: tuple[str, str],
    decided: tuple[str | None, KnownIngredient],
    state: tuple[str, Decimal | None],
    kitchen: Kitchen,
) -> str | None:
    """Name the fact that an amount lacks before it can be bought, None where it lacks nothing.

    `written`: quantity and unit. `decided`: the pack of the decision and the ingredient. `state`:
    as_purchased or edible, and the line's own yield.
    """
    pack, ingredient = decided
    try:
        amount, _ = decided_amount(written, pack, ingredient, kitchen)
    except MeasureRefused:
        weight = Quantity(amount=Decimal(1), dimension="g", measure_key=None)
        also = missing_fact(weight, kitchen.facts(ingredient))  # a measure is of so many grams
        return f"measure '{written[1]}'" + (f" and its {also}" if also else "")
    if state[0] == "edible":
        if amount.dimension == "measure":
            return "edible amount in g"
        if (state[1] or ingredient.yield_pct) is None:
            return "yield"
    return missing_fact(amount, kitchen.facts(ingredient))
