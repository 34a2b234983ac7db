"""Splits the price and the recipe effect of every ingredient of a comparison into their parts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from pricing.change.price_parts import NO_PRICE_PARTS, Packs, PriceParts, pack_factor, price_parts
from pricing.change.recipe_parts import (
    NO_RECIPE_PARTS,
    RecipeParts,
    as_swap,
    batch_growth,
    kept_parts,
    needs,
    pair_swaps,
)
from pricing.dishes.recipes import Recipes, Version
from pricing.prices.evidence import GridPrice, Pair

if TYPE_CHECKING:
    from pricing.change.records import IngredientChange

Side = tuple[Version, date]


def split_effects(
    parts: Sequence[IngredientChange],
    ids: Sequence[int],
    prices: Mapping[Pair, GridPrice],
    packs: Packs,
    recipes: Recipes,
    sides: tuple[Side, Side],
    swaps: Mapping[tuple[int, int], float],
) -> list[IngredientChange]:
    """Return the parts with `price_parts` and `recipe_parts`, which add up to their effects.

    `ids` are the ingredients of `parts`, in their order; `prices` holds every (ingredient, date);
    `swaps` is (ingredient, substitute) → ratio of the named swaps.
    """
    by_price = _by_price(parts, ids, prices, packs, (sides[0][1], sides[1][1]))
    by_recipe = _by_recipe(parts, ids, recipes, sides, swaps)
    return [
        replace(part, price_parts=price, recipe_parts=recipe)
        for part, price, recipe in zip(parts, by_price, by_recipe, strict=True)
    ]


def _by_price(
    parts: Sequence[IngredientChange],
    ids: Sequence[int],
    prices: Mapping[Pair, GridPrice],
    packs: Packs,
    on: tuple[date, date],
) -> list[PriceParts]:
    found = []
    for each, part in zip(ids, parts, strict=True):
        ends = prices[each, on[0]], prices[each, on[1]]
        quantities = part.quantity_then, part.quantity_now
        smaller = pack_factor(each, ends, packs)
        found.append(NO_PRICE_PARTS if part.marked else price_parts(quantities, ends, smaller))
    return found


def _by_recipe(
    parts: Sequence[IngredientChange],
    ids: Sequence[int],
    recipes: Recipes,
    sides: tuple[Side, Side],
    swaps: Mapping[tuple[int, int], float],
) -> list[RecipeParts]:
    need0, need1 = (needs(recipes, *side) for side in sides)
    portions = sides[0][0].portions, sides[1][0].portions
    growth = batch_growth(need0, need1, portions)
    dropped, added, found = {}, {}, []
    for each, part in zip(ids, parts, strict=True):
        if each in need0 and each in need1:
            price = 0.5 * ((part.unit_price_then or 0.0) + (part.unit_price_now or 0.0))
            ends = (need0[each], portions[0]), (need1[each], portions[1])
            found.append(kept_parts(price, *ends, growth))
        elif part.quantity_then > 0:
            dropped[each] = part.quantity_then
            found.append(replace(NO_RECIPE_PARTS, dropped=part.recipe_effect))
        else:
            if part.quantity_now > 0:
                added[each] = part.quantity_now
            found.append(replace(NO_RECIPE_PARTS, added=part.recipe_effect))
    pairs = pair_swaps(dropped, added, swaps)
    names = {each: part.ingredient for each, part in zip(ids, parts, strict=True)}
    return [
        as_swap(part, names[pairs[each]]) if each in pairs else part
        for each, part in zip(ids, found, strict=True)
    ]
