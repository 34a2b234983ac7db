"""Then and now: what of a dish's change in cost is prices, and what is the recipe."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from pricing.book.connect import Book, Connection, reading
from pricing.book.read import Settings, read_settings
from pricing.change.price_parts import NO_PRICE_PARTS, read_packs, total_price_parts
from pricing.change.recipe_parts import NO_RECIPE_PARTS, total_recipe_parts
from pricing.change.records import (
    Comparison,
    Corners,
    IngredientChange,
    OfficialFigure,
    OwnBasket,
    State,
    Taken,
    When,
)
from pricing.change.split import split_effects
from pricing.clock import refuse_future
from pricing.dishes.recipes import Recipes, Version, find_dish, read_recipes
from pricing.errors import SeriesRefused, UnknownName
from pricing.prices.evidence import Pair, grid_prices
from pricing.prices.rule import Rule
from pricing.series.rebase import rebase_in


def compare(book: Book, dish: str, *, then: When, now: When) -> Comparison:
    """Compare a dish on two dates; each side in the version named, else the one in force.

    Sub-recipes are in the version in force on their own side's date, in all four corners.
    Effects are Bennet's (1920): price ½(a0+a1)(u1−u0), recipe ½(u0+u1)(a1−a0) per ingredient;
    they add up to the change exactly. An ingredient priced on one date only takes that price on
    both, and is marked. Each effect is split further in `price_parts` and `recipe_parts`.
    Raises UnknownName, DateRefused, RecipeRefused, BookUnreadable.
    """
    with reading(book) as con:
        held = read_settings(con)
        dish_id = find_dish(con, dish)
        recipes = read_recipes(con, [dish_id])
        version0, state0 = _side(recipes, dish_id, then)
        version1, state1 = _side(recipes, dish_id, now)
        parts = _effects(con, held, recipes, (version0, state0.on), (version1, state1.on))
        corners = Corners(
            then_recipe_then=_cost(parts, "quantity_then", "unit_price_then"),
            then_recipe_now=_cost(parts, "quantity_then", "unit_price_now"),
            now_recipe_then=_cost(parts, "quantity_now", "unit_price_then"),
            now_recipe_now=_cost(parts, "quantity_now", "unit_price_now"),
        )
        rebased = _rebased(con, held, corners.then_recipe_then, state0.on, state1.on)
    price_effect = sum(part.price_effect for part in parts)
    recipe_effect = sum(part.recipe_effect for part in parts)
    return Comparison(
        dish=version0.dish,
        currency=held.currency,
        then=state0,
        now=state1,
        corners=corners,
        change=price_effect + recipe_effect,
        price_effect=price_effect,
        recipe_effect=recipe_effect,
        price_parts=total_price_parts(part.price_parts or NO_PRICE_PARTS for part in parts),
        recipe_parts=total_recipe_parts(part.recipe_parts or NO_RECIPE_PARTS for part in parts),
        ingredients=tuple(
            sorted(
                parts,
                key=lambda part: (
                    -abs(part.price_effect) - abs(part.recipe_effect),
                    part.ingredient,
                ),
            )
        ),
        rebased=rebased,
        rebased_own=OwnBasket(
            amount=corners.then_recipe_now,
            factor=corners.then_recipe_now / corners.then_recipe_then
            if corners.then_recipe_then > 0
            else None,
        ),
        complete=all(part.unit_price_now is not None for part in parts),
    )


def _side(recipes: Recipes, dish_id: int, when: When) -> tuple[Version, State]:
    on, label = (when, None) if isinstance(when, date) else when
    refuse_future(on)
    current, started = recipes.in_force(dish_id, on)
    version = current if label is None else recipes.named(dish_id, label)
    in_force = started and version.row == current.row
    return version, State(
        on=on, version=version.version, version_in_force=in_force, portions=version.portions
    )


def _effects(
    con: Connection,
    held: Settings,
    recipes: Recipes,
    side0: tuple[Version, date],
    side1: tuple[Version, date],
) -> list[IngredientChange]:
    taken0, taken1 = recipes.per_portion(*side0), recipes.per_portion(*side1)
    names = {
        line.ingredient_id: (line.name, line.base)
        for side in (side0, side1)
        for line, _ in recipes.unfold(*side)
        if line.ingredient_id is not None
    }
    pairs: set[Pair] = {
        (each, on) for each in taken0.keys() | taken1.keys() for on in (side0[1], side1[1])
    }
    rule = Rule.of(held)
    prices = grid_prices(con, rule, pairs)
    parts = effects(
        names,
        (taken0, taken1),
        {pair: price.unit_price for pair, price in prices.items()},
        (side0[1], side1[1]),
    )
    ids = sorted(taken0.keys() | taken1.keys())  # the order of `effects`
    behind = ((each, prices[each, day]) for each in ids for day in (side0[1], side1[1]))
    return split_effects(
        parts,
        ids,
        prices,
        read_packs(con, held.currency, behind),
        recipes,
        (side0, side1),
        _swap_ratios(con),
    )


def _swap_ratios(con: Connection) -> dict[tuple[int, int], float]:
    found = con.execute(
        "SELECT ingredient_id, substitute_id, ratio::DOUBLE FROM swap_now "
        "WHERE substitute_id <> ingredient_id"
    )
    return {(row[0], row[1]): row[2] for row in found.fetchall()}


def effects(
    names: Mapping[int, tuple[str, str | None]],
    taken: tuple[Taken, Taken],
    unit_prices: Mapping[Pair, float | None],
    on: tuple[date, date],
) -> list[IngredientChange]:
    """Return what each ingredient did to the change between two states, by ingredient id.

    `names` gives each ingredient's name and base unit, `taken` the per-portion quantities of the
    two states, `unit_prices` the price of every (ingredient, date) of `on` that has one.
    """
    taken0, taken1 = taken
    parts = []
    for each in sorted(taken0.keys() | taken1.keys()):
        name, base = names[each]
        quantity0, quantity1 = taken0.get(each, 0.0), taken1.get(each, 0.0)
        price0, price1 = (unit_prices.get((each, day)) for day in on)
        one_sided = price0 is None or price1 is None
        price0, price1 = (
            (price1 if price0 is None else price0),
            (price0 if price1 is None else price1),
        )
        if quantity0 is None or quantity1 is None:  # a fact is missing: it cannot be costed
            quantity0 = quantity1 = 0.0
            price0 = price1 = None
            one_sided = True
        u0, u1 = price0 or 0.0, price1 or 0.0
        parts.append(
            IngredientChange(
                ingredient=name,
                base=base or "",
                quantity_then=quantity0,
                quantity_now=quantity1,
                unit_price_then=price0,
                unit_price_now=price1,
                price_effect=0.5 * (quantity0 + quantity1) * (u1 - u0),
                recipe_effect=0.5 * (u0 + u1) * (quantity1 - quantity0),
                marked=one_sided,
            )
        )
    return parts


def _cost(parts: list[IngredientChange], quantity: str, unit_price: str) -> float:
    return float(sum(part[quantity] * (part[unit_price] or 0.0) for part in parts))


def _rebased(
    con: Connection, held: Settings, amount: float, then: date, now: date
) -> tuple[OfficialFigure, ...]:
    figures = []
    for series in (held.food_series, held.all_items_series):
        if series is None:
            continue
        try:
            moved = rebase_in(
                con, amount, start=then.replace(day=1), end=now.replace(day=1), series=series
            )
        except (SeriesRefused, UnknownName) as refused:
            figures.append(
                OfficialFigure(
                    series=series, title=None, amount=None, held_at=None, reason=str(refused)
                )
            )
            continue
        figures.append(
            OfficialFigure(
                series=series,
                title=moved.title,
                amount=moved.result,
                held_at=moved.held_at,
                reason=None,
            )
        )
    return tuple(figures)
