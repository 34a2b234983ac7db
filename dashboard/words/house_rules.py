"""Says by which rules of the house a printed figure is made."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from pricing.contents.house_rules import HouseRules
from pricing.money import minor_units, show_money

if TYPE_CHECKING:
    from pricing.book.read import Settings
    from pricing.dishes.cost import DishCost

PANTRY_LEFT_OUT = "store cupboard not counted"


def rules_words(settings: Settings, currency: str | None = None) -> str:
    """Return the rules of rounding and of the store cupboard; "" where a cost is only rounded.

    In `currency`, the book's unless stated: "rounded up to the next $0.05".
    """
    house = HouseRules.of(settings)
    if not house.stated:
        return ""
    money = currency or settings.currency
    step = show_money(Decimal(house.step).scaleb(-minor_units().get(money, 2)), money)
    words = f"rounded {'up to the next' if house.up else 'to the nearest'} {step}"
    return words if house.pantry else f"{words}, {PANTRY_LEFT_OUT}"


def rules_sentence(settings: Settings) -> str:
    """Return the same as a sentence, "" where there is nothing to say."""
    words = rules_words(settings)
    return f"Printed figures are {words}: the house's rules." if words else ""


def to_print_words(cost: DishCost, settings: Settings) -> str:
    """Return the figure to print of a costing, and its rules; "" where the house has none."""
    if cost.to_print is None:
        return ""
    money = show_money(cost.to_print, cost.currency)
    return f"To print: {money} ({rules_words(settings, cost.currency)})"
