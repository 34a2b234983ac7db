"""Splits the price and the recipe effect of every ingredient of a comparison into their parts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from pricing.change.price_parts import NO_PRICE_PARTS, Packs, PriceParts, pack_factor, price_parts
from pricing.change.recipe_parts import (
    NO_RECIPE_PARTS,
    RecipeParts,
    as_swap,
    batch_growth,
    batch_needs,
    kept_parts,
    pair_swaps,
)
from pricing.change.records import IngredientChange
from pricing.dishes.recipes import Recipes, Version
from pricing.prices.evidence import GridPrice, Pair

RecipeOnDay = tuple[Version, date]  # a version and its recipe day


@dataclass(frozen=True, kw_only=True)
class Compared:
    """What is known of a dish then and now, from which its effects are split."""

    recipes: Recipes
    sides: tuple[RecipeOnDay, RecipeOnDay]
    on: tuple[date, date]  # whose prices
    prices: Mapping[Pair, GridPrice]  # every (ingredient, date)
    packs: Packs
    swap_ratios: Mapping[tuple[int, int], float]  # (ingredient, substitute), of the named swaps

    def ends(self, ingredient_id: int) -> tuple[GridPrice, GridPrice]:
        """Return the ingredient's price then and now."""
        then, now = self.on
        return self.prices[ingredient_id, then], self.prices[ingredient_id, now]


def split_effects(
    changes: Sequence[IngredientChange], ids: Sequence[int], compared: Compared
) -> list[IngredientChange]:
    """Return the changes with `price_parts` and `recipe_parts`, which add up to their effects.

    `ids` are the ingredients of `changes`, in their order. What is left out has no parts.
    """
    by_price = [
        _by_price(change, each, compared) for each, change in zip(ids, changes, strict=True)
    ]
    by_recipe = _by_recipe(changes, ids, compared)
    return [
        change if change.left_out else replace(change, price_parts=price, recipe_parts=recipe)
        for change, price, recipe in zip(changes, by_price, by_recipe, strict=True)
    ]


def _by_price(change: IngredientChange, ingredient_id: int, compared: Compared) -> PriceParts:
    if change.left_out or not change.quantity_then:
        return NO_PRICE_PARTS
    ends = compared.ends(ingredient_id)
    smaller = pack_factor(ingredient_id, ends, compared.packs)
    return price_parts(change.quantity_then, ends, smaller)


def _by_recipe(
    changes: Sequence[IngredientChange], ids: Sequence[int], compared: Compared
) -> list[RecipeParts]:
    need0, need1 = (batch_needs(compared.recipes, *side) for side in compared.sides)
    (version0, _), (version1, _) = compared.sides
    portions = version0.portions, version1.portions
    growth = batch_growth(need0, need1, portions)
    dropped, added, found = {}, {}, []
    for each, change in zip(ids, changes, strict=True):
        quantity0, quantity1, effect = (
            change.quantity_then, change.quantity_now, change.recipe_effect,
        )  # fmt: skip
        if effect is None or quantity0 is None or quantity1 is None:
            found.append(NO_RECIPE_PARTS)
        elif each in need0 and each in need1:
            ends = (need0[each], portions[0]), (need1[each], portions[1])
            found.append(kept_parts(change.unit_price_now or 0.0, *ends, growth))
        elif quantity0 > 0:
            dropped[each] = quantity0
            found.append(replace(NO_RECIPE_PARTS, dropped=effect))
        else:
            if quantity1 > 0:
                added[each] = quantity1
            found.append(replace(NO_RECIPE_PARTS, added=effect))
    pairs = pair_swaps(dropped, added, compared.swap_ratios)
    names = {each: change.ingredient for each, change in zip(ids, changes, strict=True)}
    return [
        as_swap(part, names[pairs[each]]) if each in pairs else part
        for each, part in zip(ids, found, strict=True)
    ]
