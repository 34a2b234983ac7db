"""What each ingredient did to a change of cost: first by its price, then by the recipe."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from datetime import date
from typing import TYPE_CHECKING, TypeVar

from pricing.change.records import Corners, IngredientChange
from pricing.prices.evidence import Pair
from pricing.prices.settled import Markets

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

PerPortion = Mapping[int, float | None]  # ingredient id → quantity; None = a fact is missing
Figures = TypeVar("Figures", float, "NDArray[np.float64]")  # one, or one an ingredient


def price_effect(quantity_then: Figures, price: tuple[Figures, Figures]) -> Figures:
    """Return a0 (u1 − u0): what the old recipe costs more at today's prices.

    >>> price_effect(100.0, (0.01, 0.02))
    1.0
    """
    return quantity_then * (price[1] - price[0])


def recipe_effect(quantity: tuple[Figures, Figures], price_now: Figures) -> Figures:
    """Return (a1 − a0) u1; with the price effect it adds up to the change.

    >>> recipe_effect((100.0, 80.0), 0.02)
    -0.4
    """
    return (quantity[1] - quantity[0]) * price_now


def effects(
    names: Mapping[int, tuple[str, str | None]],
    taken: tuple[PerPortion, PerPortion],
    unit_prices: Mapping[Pair, float | None],
    on: tuple[date, date],
    settled: Mapping[int, Markets] | None = None,
) -> list[IngredientChange]:
    """Return what each ingredient did to the change between two states, by ingredient id.

    `names` gives each ingredient's name and base unit, `taken` the per-portion quantities of the
    two states, `unit_prices` the price of every (ingredient, date) of `on` that has one, `settled`
    the markets then and now of the ingredients for which they had to be settled.

    Like is compared with like: an ingredient of the first state that lacks a price on either date,
    one of the second that lacks a price now, and one whose amount is not known, is left out.
    """
    changes, settled = [], settled or {}
    for each in sorted(taken[0].keys() | taken[1].keys()):
        name, base = names[each]
        quantities = taken[0].get(each, 0.0), taken[1].get(each, 0.0)
        prices = unit_prices.get((each, on[0])), unit_prices.get((each, on[1]))
        both = _both_effects(quantities, prices, new=each not in taken[0])
        market0, market1 = settled.get(each, (None, None))
        changes.append(
            IngredientChange(
                ingredient=name,
                base=base or "",
                quantity_then=quantities[0],
                quantity_now=quantities[1],
                unit_price_then=prices[0],
                unit_price_now=prices[1],
                price_effect=both[0] if both else None,
                recipe_effect=both[1] if both else None,
                marked=each in settled,
                market_then=market0,
                market_now=market1,
                left_out=both is None,
            )
        )
    return changes


def _both_effects(
    quantity: tuple[float | None, float | None],
    price: tuple[float | None, float | None],
    *,
    new: bool,
) -> tuple[float, float] | None:
    """Return the price and the recipe effect; None where like cannot be compared with like."""
    (a0, a1), (u0, u1) = quantity, price
    if a0 is None or a1 is None or u1 is None:
        return None
    if new:  # it needs no price of then
        return 0.0, recipe_effect((a0, a1), u1)
    if u0 is None:
        return None
    return price_effect(a0, (u0, u1)), recipe_effect((a0, a1), u1)


def corners(changes: Iterable[IngredientChange]) -> Corners:
    """Return what each recipe costs on each date, of what is not left out."""
    kept = [each for each in changes if not each.left_out]
    unknown = any(each.quantity_now and each.unit_price_then is None for each in kept)
    return Corners(
        then_recipe_then=_cost(kept, "quantity_then", "unit_price_then"),
        then_recipe_now=_cost(kept, "quantity_then", "unit_price_now"),
        now_recipe_then=None if unknown else _cost(kept, "quantity_now", "unit_price_then"),
        now_recipe_now=_cost(kept, "quantity_now", "unit_price_now"),
    )


def _cost(kept: Collection[IngredientChange], quantity: str, unit_price: str) -> float:
    # a price of then is missing only of what the recipe of then does not take
    return float(sum(each[quantity] * (each[unit_price] or 0.0) for each in kept))
