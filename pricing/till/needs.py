"""What dishes together need of each ingredient, and what each of them costs on the plate."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from math import isfinite

from pricing.book.connect import Connection
from pricing.dishes.cost import DishCost, cost_in
from pricing.errors import InputRefused
from pricing.names import name_key
from pricing.prices.price_line import CostLine
from pricing.prices.rule import Rule

Dishes = Mapping[str, float] | Sequence[tuple[str, float]]  # each with how many batches of it


@dataclass(kw_only=True)
class Need:
    """What the dishes take of one ingredient, and the costing line that tells its price.

    Amounts as purchased, in the line's base unit.
    """

    line: CostLine
    pantry: float = 0.0
    other: float = 0.0
    pantry_lines: int = 0
    other_lines: int = 0
    known: bool = True  # every line could be turned into the base unit
    reason: str | None = None  # why not

    def plate_cost(self, amount: float) -> float | None:
        """Return what so much of it costs at the rule's unit price; None: not known."""
        if self.line.unit_price is None or not self.known:
            return None
        return amount * self.line.unit_price

    def add(self, line: CostLine, batches: float) -> None:
        """Add what a line takes, so many times."""
        amount = 0.0 if line.as_purchased is None else line.as_purchased * batches
        if line.as_purchased is None:
            self.known, self.reason = False, line.reason
        if line.pantry:
            self.pantry, self.pantry_lines = self.pantry + amount, self.pantry_lines + 1
        else:
            self.other, self.other_lines = self.other + amount, self.other_lines + 1


def read_dishes(dishes: Dishes) -> list[tuple[str, float]]:
    """Return the dishes with their batches. Raises InputRefused."""
    asked = list(dishes.items() if isinstance(dishes, Mapping) else dishes)
    if not asked:
        raise InputRefused("Found no dish to shop for; expected one at least. Name a dish.")
    for dish, batches in asked:
        if not (isfinite(batches) and batches > 0):
            raise InputRefused(
                f"Found {batches:g} batches of '{dish}'; expected a number above 0, such as 1, 2 "
                "or 0.5. Correct it, or leave the dish out."
            )
    return asked


def cost_dishes(
    con: Connection,
    rule: Rule,
    asked: Sequence[tuple[str, float]],
    on: date,
    version: str | Mapping[str, str] | None,
) -> list[tuple[DishCost, float]]:
    """Return each dish costed, with its batches; a dish named twice is made for both.

    Raises InputRefused (one version for several dishes), UnknownName, RecipeRefused.
    """
    batches: dict[str, float] = {}
    names: dict[str, str] = {}
    for dish, number in asked:
        key = name_key(dish)
        batches[key] = batches.get(key, 0.0) + number
        names.setdefault(key, dish)
    if isinstance(version, str) and len(names) > 1:
        raise InputRefused(
            f"Found version '{version}' beside {len(names)} dishes; expected one dish. Name the "
            "version with its dish alone, or leave it out."
        )
    if not isinstance(version, Mapping):
        version = {} if version is None else dict.fromkeys(names, version)
    labels = {name_key(dish): label for dish, label in version.items()}
    return [
        (cost_in(con, rule, dish, on=on, version=labels.get(key)), batches[key])
        for key, dish in names.items()
    ]


def add_up(made: Sequence[tuple[DishCost, float]]) -> dict[str, Need]:
    """Return ingredient → what all the dishes need of it, in the order of their lines."""
    needs: dict[str, Need] = {}
    for cost, batches in made:
        for line in cost.ingredient_lines():
            needs.setdefault(line.ingredient, Need(line=line)).add(line, batches)
    return needs
