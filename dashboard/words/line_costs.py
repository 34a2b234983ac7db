"""Line costs as shown: rounded so that they add up to the batch cost that stands above them."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import TYPE_CHECKING

from pricing.money import apportion, round_money

if TYPE_CHECKING:
    from pricing.dishes.cost import DishCost
    from pricing.prices.price_line import CostLine

Shown = dict[int, Decimal]  # id() of a line of the costing → its cost in whole minor units


def shown_costs(cost: DishCost) -> Shown:
    """Return what to print for every priced line, those of sub-recipes included."""
    shown: Shown = {}
    _apportion(cost.lines, round_money(cost.cost_per_batch, cost.currency), cost.currency, shown)
    return shown


def _apportion(lines: Sequence[CostLine], total: Decimal, currency: str, shown: Shown) -> None:
    priced = [line for line in lines if line.cost is not None]
    if not priced:
        return
    parts = apportion([line.cost or 0.0 for line in priced], currency, total)
    for line, part in zip(priced, parts, strict=True):
        shown[id(line)] = part
        if line.lines:
            _apportion(line.lines, part, currency, shown)
