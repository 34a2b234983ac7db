"""What a portion costs today, ingredient by ingredient: of one dish, or the mean of all."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from pricing.book.connect import Connection
from pricing.contents.choices import ingredients_in
from pricing.dishes.cost import cost_in
from pricing.dishes.counted import read_counted
from pricing.prices.rule import Rule


@dataclass(frozen=True, kw_only=True)
class CostNow:
    """The cost of a portion. Money in the rule's currency."""

    dish: str | None  # None: the mean
    version: str | None
    dishes: int
    by_ingredient: Mapping[str, float]  # by name; none of 0
    missing: tuple[str, ...]  # ingredients without a price; of a mean, dishes that have such

    @property
    def total(self) -> float:
        return sum(self.by_ingredient.values())


def cost_of_dish(con: Connection, rule: Rule, dish: str, version: str | None, on: date) -> CostNow:
    """Cost one dish. Raises UnknownName, RecipeRefused."""
    cost = cost_in(con, rule, dish, on=on, version=version)
    by_name: dict[str, float] = {}
    lines = list(cost.ingredient_lines())
    for line in lines:
        if line.cost:
            by_name[line.ingredient] = by_name.get(line.ingredient, 0.0) + line.cost / cost.portions
    missing = dict.fromkeys(line.ingredient for line in lines if line.basis == "missing")
    return CostNow(
        dish=cost.dish, version=cost.version, dishes=1, by_ingredient=by_name,
        missing=tuple(missing),
    )  # fmt: skip


def mean_cost(con: Connection, rule: Rule, on: date) -> CostNow:
    """Cost the mean of the dishes that count, in the versions in force. Raises RecipeRefused."""
    import numpy as np

    from pricing.dishes.two_days import two_days

    catalogue = read_counted(con, None).catalogue
    names = catalogue.dishes
    if not names:
        return CostNow(dish=None, version=None, dishes=0, by_ingredient={}, missing=())
    found = two_days(con, rule, catalogue, (on, on))
    each = np.asarray(found.quantity[1].sum(axis=0)).ravel() * found.price[1] / len(names)
    name_of = {each.ingredient_id: each.ingredient for each in ingredients_in(con)}
    paid = zip(catalogue.ingredient_ids.tolist(), each.tolist(), strict=True)
    whole = found.complete().tolist()
    return CostNow(
        dish=None,
        version=None,
        dishes=len(names),
        by_ingredient={name_of[at]: cost for at, cost in paid if cost > 0},
        missing=tuple(name for name, told in zip(names, whole, strict=True) if not told),
    )
