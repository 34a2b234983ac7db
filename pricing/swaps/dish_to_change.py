"""A dish about to be changed: what it takes, what that costs, and which swaps can be made in it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from pricing.book.connect import Connection
from pricing.dishes.cost import DishCost, cost_in
from pricing.dishes.recipes import Recipes, Version, find_dish, read_recipes
from pricing.prices.rule import Rule
from pricing.swaps.in_force import Swap, dish_keys, swaps_in


@dataclass(frozen=True, kw_only=True)
class DishToChange:
    """A costed dish and its swaps."""

    on: date
    cost: DishCost
    version: Version
    recipes: Recipes  # of the dish and of every dish that may take an ingredient's place
    quantity: Mapping[int, float]  # ingredient → base units per portion, as purchased
    swaps: tuple[Swap, ...]  # that can be made in it, by name
    elsewhere: tuple[Swap, ...]  # that are stated not to work in it


def read_dish_to_change(
    con: Connection, rule: Rule, dish: str, *, on: date, version: str | None = None
) -> DishToChange:
    """Cost a dish and gather its swaps. Raises UnknownName, RecipeRefused."""
    cost = cost_in(con, rule, dish, on=on, version=version)
    dish_id = find_dish(con, dish)
    swaps = swaps_in(con)
    others = {s.substitute_dish_id for s in swaps if s.substitute_dish_id is not None}
    recipes = read_recipes(con, [dish_id, *others])
    taken = recipes.named(dish_id, cost.version)
    per_portion = recipes.per_portion(taken, cost.recipe_day)
    quantity = {each: amount for each, amount in per_portion.items() if amount is not None}
    named = [swap for swap in swaps if swap.ingredient_id in quantity]
    here = dish_keys(cost.dish, taken.group)
    works = [swap for swap in named if swap.works(here)]
    inside = recipes.dishes_in(taken, cost.recipe_day)
    return DishToChange(
        on=on,
        cost=cost,
        version=taken,
        recipes=recipes,
        quantity=quantity,
        swaps=tuple(swap for swap in works if inside.isdisjoint(put_through(swap, recipes, on))),
        elsewhere=tuple(swap for swap in named if swap not in works),
    )


def put_through(swap: Swap, recipes: Recipes, on: date) -> set[int]:
    """Return the ids of the dishes through which the dish put in place takes the ingredient.

    Where one of them is in a dish, its line is swapped too: the dish would be put into itself.
    """
    if swap.substitute_dish_id is None:
        return set()
    put, _ = recipes.in_force(swap.substitute_dish_id, on)
    return {
        each
        for each in recipes.dishes_in(put, on)
        if swap.ingredient_id in recipes.per_portion(recipes.in_force(each, on)[0], on)
    }
