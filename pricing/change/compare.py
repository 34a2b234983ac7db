"""Then and now: what of a dish's change in cost is prices, and what is the recipe."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from pricing.book.connect import Book, Connection, reading
from pricing.book.read import Settings, read_settings
from pricing.change.effects import corners, effects
from pricing.change.left_out import why_left_out
from pricing.change.price_parts import NO_PRICE_PARTS, read_packs, total_price_parts
from pricing.change.recipe_parts import NO_RECIPE_PARTS, total_recipe_parts
from pricing.change.records import (
    Comparison,
    Corners,
    IngredientChange,
    LeftOut,
    OfficialFigure,
    OwnBasket,
    State,
    When,
)
from pricing.change.split import Compared, RecipeOnDay, split_effects
from pricing.clock import asked_day
from pricing.days import Day, read_day
from pricing.dishes.allergens import allergens_changed
from pricing.dishes.recipes import Recipes, find_dish, read_recipes
from pricing.errors import SeriesRefused, UnknownName
from pricing.prices.asked_rule import asked_rule
from pricing.prices.rule import Rule
from pricing.prices.settled import compared_prices
from pricing.series.rebase import rebase_in


def compare(
    book: Book,
    dish: str,
    *,
    then: When,
    now: When,
    recipe_day: Day | None = None,
    market: str | None = None,
    not_supplier: Sequence[str] = (),
) -> Comparison:
    """Compare a dish on two dates; each side in the version named, else the one in force.

    First prices, then the recipe: per ingredient the price effect is a0(u1−u0), the recipe effect
    (a1−a0)u1. They add up to the change, and both sums are differences of corners. Each side keeps
    the sub-recipes of its own recipe day at both dates' prices; `recipe_day` asks for another one
    of then. `market` is shop, trade or any (the book's setting unless stated), `not_supplier`
    leaves suppliers out. An ingredient that cannot be compared (of then: without a price on either
    date; of now: without one now) is left out of all of it, and named.
    Raises UnknownName, DateRefused, RecipeRefused, BookUnreadable.
    """
    with reading(book) as con:
        settings = read_settings(con)
        dish_id = find_dish(con, dish)
        recipes = read_recipes(con, [dish_id])
        before, state0 = _state(recipes, dish_id, then, recipe_day)
        after, state1 = _state(recipes, dish_id, now, None)
        rule = asked_rule(con, settings, market=market, not_supplier=not_supplier)
        changes, left_out = _changes(con, rule, recipes, (before, after), (state0.on, state1.on))
        cost = corners(changes)
        allergens = allergens_changed(recipes, before, after, settings.allergen_list)
        rebased = _rebased(con, settings, cost.then_recipe_then, state0.on, state1.on)
    return Comparison(
        dish=before[0].dish,
        currency=settings.currency,
        then=state0,
        now=state1,
        corners=cost,
        ingredients=tuple(sorted(changes, key=_largest_first)),
        left_out=left_out,
        rebased=rebased,
        rebased_own=_own_basket(cost),
        allergens=allergens,
        complete=not left_out,
        **_sums(changes),
    )


def _sums(changes: Sequence[IngredientChange]) -> dict[str, Any]:
    """Return the change and its parts over all ingredients."""
    by_price = sum(each.price_effect or 0.0 for each in changes)
    by_recipe = sum(each.recipe_effect or 0.0 for each in changes)
    return {
        "change": by_price + by_recipe,
        "price_effect": by_price,
        "recipe_effect": by_recipe,
        "price_parts": total_price_parts(each.price_parts or NO_PRICE_PARTS for each in changes),
        "recipe_parts": total_recipe_parts(
            each.recipe_parts or NO_RECIPE_PARTS for each in changes
        ),
    }


def _largest_first(change: IngredientChange) -> tuple[bool, float, str]:
    size = abs(change.price_effect or 0.0) + abs(change.recipe_effect or 0.0)
    return change.left_out, -size, change.ingredient


def _state(
    recipes: Recipes, dish_id: int, when: When, recipe_day: Day | None
) -> tuple[RecipeOnDay, State]:
    day, label = when if isinstance(when, tuple) else (when, None)
    on = asked_day(day)
    current, started = recipes.in_force(dish_id, on)
    version = current if label is None else recipes.named(dish_id, label)
    taken_on = recipes.recipe_day(version, on) if recipe_day is None else read_day(recipe_day)
    return (version, taken_on), State(
        on=on,
        recipe_day=taken_on,
        version=version.version,
        version_in_force=started and version.row == current.row,
        portions=version.portions,
    )


def _changes(
    con: Connection,
    rule: Rule,
    recipes: Recipes,
    sides: tuple[RecipeOnDay, RecipeOnDay],
    on: tuple[date, date],
) -> tuple[list[IngredientChange], tuple[LeftOut, ...]]:
    """Return what each ingredient did to the change, with parts, and why some are left out."""
    taken0, taken1 = (recipes.per_portion(*side) for side in sides)
    names = recipes.ingredients()
    ids = sorted(taken0.keys() | taken1.keys())  # the order of `effects`
    found = compared_prices(con, rule, ids, on)
    unit_prices = {pair: price.unit_price for pair, price in found.prices.items()}
    changes = effects(names, (taken0, taken1), unit_prices, on, found.settled)
    compared = Compared(
        recipes=recipes,
        sides=sides,
        on=on,
        prices=found.prices,
        packs=read_packs(
            con, rule.currency, ((each, found.prices[each, day]) for each in ids for day in on)
        ),
        swap_ratios=_swap_ratios(con),
    )
    without = {each: change for each, change in zip(ids, changes, strict=True) if change.left_out}
    why = why_left_out(
        con,
        rule,
        names,
        {each: compared.ends(each) for each in without},
        [each for each, c in without.items() if None in (c.quantity_then, c.quantity_now)],
    )
    left_out = sorted(
        (LeftOut(ingredient=names[each][0], reason=reason) for each, reason in why.items()),
        key=lambda each: each.ingredient,
    )
    return split_effects(changes, ids, compared), tuple(left_out)


def _swap_ratios(con: Connection) -> dict[tuple[int, int], float]:
    found = con.execute(
        "SELECT ingredient_id, substitute_id, ratio::DOUBLE FROM swap_now "
        "WHERE substitute_id <> ingredient_id"
    )
    return {(row[0], row[1]): row[2] for row in found.fetchall()}


def _own_basket(cost: Corners) -> OwnBasket:
    then, now = cost.then_recipe_then, cost.then_recipe_now
    return OwnBasket(amount=now, factor=now / then if then > 0 else None)


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
