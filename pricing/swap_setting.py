"""A dish about to be changed: what it takes, what that costs, and which swaps can be made in it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from pricing.book.connect import Connection
from pricing.book.grid import Rule
from pricing.costing import DishCost, cost_in
from pricing.recipes import Recipes, Version, find_dish, read_recipes
from pricing.swaps_held import Swap, swaps_in


@dataclass(frozen=True, kw_only=True)
class Setting:
    """A costed dish and its swaps."""

    on: date
    cost: DishCost
    version: Version
    recipes: Recipes  # of the dish and of every dish that may take an ingredient's place
    quantity: Mapping[int, float]  # ingredient → base units per portion, as purchased
    swaps: tuple[Swap, ...]  # that can be made in it, by name
    elsewhere: tuple[Swap, ...]  # that are stated not to work in it


def settle(
    con: Connection, rule: Rule, dish: str, *, on: date, version: str | None = None
) -> Setting:
    """Cost a dish and gather its swaps. Raises UnknownName, RecipeRefused."""
    cost = cost_in(con, rule, dish, on=on, version=version)
    dish_id = find_dish(con, dish)
    swaps = swaps_in(con)
    others = {s.substitute_dish_id for s in swaps if s.substitute_dish_id is not None}
    recipes = read_recipes(con, [dish_id, *others])
    taken = recipes.named(dish_id, cost.version)
    per_portion = recipes.per_portion(taken, on)
    quantity = {each: amount for each, amount in per_portion.items() if amount is not None}
    named = [swap for swap in swaps if swap.ingredient_id in quantity]
    works = [swap for swap in named if swap.works(cost.dish, taken.group)]
    return Setting(
        on=on,
        cost=cost,
        version=taken,
        recipes=recipes,
        quantity=quantity,
        swaps=tuple(swap for swap in works if not _ends_in_itself(recipes, taken, swap, on)),
        elsewhere=tuple(swap for swap in named if swap not in works),
    )


def _ends_in_itself(recipes: Recipes, version: Version, swap: Swap, on: date) -> bool:
    """Tell whether the dish put in place takes the ingredient through a dish of this very tree.

    That line is swapped too, so the dish would be put into itself.
    """
    if swap.substitute_dish_id is None:
        return False
    put, _ = recipes.in_force(swap.substitute_dish_id, on)
    shared = recipes.dishes_in(put, on) & recipes.dishes_in(version, on)
    return any(
        swap.ingredient_id in recipes.per_portion(recipes.in_force(each, on)[0], on)
        for each in shared
    )
