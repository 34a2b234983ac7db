"""Then and now: what of a dish's change in cost is prices, and what is the recipe."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from pricing.book.connect import Book, Connection, reading
from pricing.book.read import Settings, read_settings
from pricing.change.effects import effects
from pricing.change.price_parts import NO_PRICE_PARTS, read_packs, total_price_parts
from pricing.change.recipe_parts import NO_RECIPE_PARTS, total_recipe_parts
from pricing.change.records import (
    Comparison,
    Corners,
    IngredientChange,
    OfficialFigure,
    OwnBasket,
    State,
    When,
)
from pricing.change.split import Compared, RecipeOnDay, split_effects
from pricing.clock import refuse_future
from pricing.dishes.allergens import allergens_changed
from pricing.dishes.recipes import Recipes, find_dish, read_recipes
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
        settings = read_settings(con)
        dish_id = find_dish(con, dish)
        recipes = read_recipes(con, [dish_id])
        before, state0 = _state(recipes, dish_id, then)
        after, state1 = _state(recipes, dish_id, now)
        changes = _changes(con, settings, recipes, (before, after))
        corners = _corners(changes)
        allergens = allergens_changed(recipes, before, after, settings.allergen_list)
        rebased = _rebased(con, settings, corners.then_recipe_then, state0.on, state1.on)
    by_price = sum(each.price_effect for each in changes)
    by_recipe = sum(each.recipe_effect for each in changes)
    return Comparison(
        dish=before[0].dish,
        currency=settings.currency,
        then=state0,
        now=state1,
        corners=corners,
        change=by_price + by_recipe,
        price_effect=by_price,
        recipe_effect=by_recipe,
        price_parts=total_price_parts(each.price_parts or NO_PRICE_PARTS for each in changes),
        recipe_parts=total_recipe_parts(each.recipe_parts or NO_RECIPE_PARTS for each in changes),
        ingredients=tuple(sorted(changes, key=_largest_first)),
        rebased=rebased,
        rebased_own=_own_basket(corners),
        allergens=allergens,
        complete=all(each.unit_price_now is not None for each in changes),
    )


def _largest_first(change: IngredientChange) -> tuple[float, str]:
    return -abs(change.price_effect) - abs(change.recipe_effect), change.ingredient


def _state(recipes: Recipes, dish_id: int, when: When) -> tuple[RecipeOnDay, State]:
    on, label = (when, None) if isinstance(when, date) else when
    refuse_future(on)
    current, started = recipes.in_force(dish_id, on)
    version = current if label is None else recipes.named(dish_id, label)
    in_force = started and version.row == current.row
    return (version, on), State(
        on=on, version=version.version, version_in_force=in_force, portions=version.portions
    )


def _changes(
    con: Connection, settings: Settings, recipes: Recipes, sides: tuple[RecipeOnDay, RecipeOnDay]
) -> list[IngredientChange]:
    """Return what each ingredient did to the change, with the parts of both its effects."""
    taken0, taken1 = (recipes.per_portion(*side) for side in sides)
    on = sides[0][1], sides[1][1]
    names = {
        line.ingredient_id: (line.name, line.base)
        for side in sides
        for line, _ in recipes.unfold(*side)
        if line.ingredient_id is not None
    }
    ids = sorted(taken0.keys() | taken1.keys())  # the order of `effects`
    pairs: set[Pair] = {(each, day) for each in ids for day in on}
    prices = grid_prices(con, Rule.of(settings), pairs)
    changes = effects(
        names, (taken0, taken1), {pair: price.unit_price for pair, price in prices.items()}, on
    )
    behind = ((each, prices[each, day]) for each in ids for day in on)
    compared = Compared(
        recipes=recipes,
        sides=sides,
        prices=prices,
        packs=read_packs(con, settings.currency, behind),
        swap_ratios=_swap_ratios(con),
    )
    return split_effects(changes, ids, compared)


def _swap_ratios(con: Connection) -> dict[tuple[int, int], float]:
    found = con.execute(
        "SELECT ingredient_id, substitute_id, ratio::DOUBLE FROM swap_now "
        "WHERE substitute_id <> ingredient_id"
    )
    return {(row[0], row[1]): row[2] for row in found.fetchall()}


def _corners(changes: Sequence[IngredientChange]) -> Corners:
    return Corners(
        then_recipe_then=_cost(changes, "quantity_then", "unit_price_then"),
        then_recipe_now=_cost(changes, "quantity_then", "unit_price_now"),
        now_recipe_then=_cost(changes, "quantity_now", "unit_price_then"),
        now_recipe_now=_cost(changes, "quantity_now", "unit_price_now"),
    )


def _own_basket(corners: Corners) -> OwnBasket:
    then, now = corners.then_recipe_then, corners.then_recipe_now
    return OwnBasket(amount=now, factor=now / then if then > 0 else None)


def _cost(changes: Sequence[IngredientChange], quantity: str, unit_price: str) -> float:
    return float(sum(each[quantity] * (each[unit_price] or 0.0) for each in changes))


def _rebased(
    con: Connection, settings: Settings, amount: float, then: date, now: date
) -> tuple[OfficialFigure, ...]:
    figures = []
    for series in (settings.food_series, settings.all_items_series):
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
