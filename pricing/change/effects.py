"""What each ingredient did to a change of cost: Bennet's price effect and recipe effect."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import TYPE_CHECKING, TypeVar

from pricing.change.records import IngredientChange
from pricing.prices.both_days import on_both_days
from pricing.prices.evidence import Pair

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

PerPortion = Mapping[int, float | None]  # ingredient id → quantity; None = a fact is missing
Figures = TypeVar("Figures", float, "NDArray[np.float64]")  # one, or one an ingredient


def price_effect(quantity: tuple[Figures, Figures], price: tuple[Figures, Figures]) -> Figures:
    """Return ½(a0 + a1)(u1 − u0), of quantities and prices then and now (Bennet 1920).

    >>> price_effect((100.0, 80.0), (0.01, 0.02))
    0.9
    """
    return 0.5 * (quantity[0] + quantity[1]) * (price[1] - price[0])


def recipe_effect(quantity: tuple[Figures, Figures], price: tuple[Figures, Figures]) -> Figures:
    """Return ½(u0 + u1)(a1 − a0); with the price effect it adds up to the change, exactly.

    >>> recipe_effect((100.0, 80.0), (0.01, 0.02))
    -0.3
    """
    return 0.5 * (price[0] + price[1]) * (quantity[1] - quantity[0])


def effects(
    names: Mapping[int, tuple[str, str | None]],
    taken: tuple[PerPortion, PerPortion],
    unit_prices: Mapping[Pair, float | None],
    on: tuple[date, date],
) -> list[IngredientChange]:
    """Return what each ingredient did to the change between two states, by ingredient id.

    `names` gives each ingredient's name and base unit, `taken` the per-portion quantities of the
    two states, `unit_prices` the price of every (ingredient, date) of `on` that has one.
    """
    changes = []
    for each in sorted(taken[0].keys() | taken[1].keys()):
        name, base = names[each]
        quantity0, quantity1 = (side.get(each, 0.0) for side in taken)
        seen0, seen1 = (unit_prices.get((each, day)) for day in on)
        marked = seen0 is None or seen1 is None
        price0, price1 = on_both_days(seen0, seen1)
        if quantity0 is None or quantity1 is None:  # it cannot be costed
            quantity0 = quantity1 = 0.0
            price0 = price1 = None
            marked = True
        quantity, price = (quantity0, quantity1), (price0 or 0.0, price1 or 0.0)
        changes.append(
            IngredientChange(
                ingredient=name,
                base=base or "",
                quantity_then=quantity0,
                quantity_now=quantity1,
                unit_price_then=price0,
                unit_price_now=price1,
                price_effect=price_effect(quantity, price),
                recipe_effect=recipe_effect(quantity, price),
                marked=marked,
            )
        )
    return changes
