"""Many dishes on one day: what a portion of each costs, and what it cost some time before."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from pricing.answer import Answer
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import read_settings
from pricing.clock import asked_day, today
from pricing.days import Day
from pricing.dishes.counted import half_product_ids
from pricing.dishes.recipes import Recipes, Version, find_dish, read_recipes
from pricing.prices.asked_rule import asked_rule

if TYPE_CHECKING:
    from pricing.dishes.catalogue import CatalogueCost


@dataclass(frozen=True, kw_only=True)
class DishOnDay(Answer):
    """One dish on a day. Money per portion, in the answer's currency."""

    dish: str
    group: str | None  # of dishes
    version: str
    version_in_force: bool
    recipe_day: date  # whose sub-recipes count
    cost_per_portion: float  # of the priced lines
    complete: bool
    share_bridged: float | None  # of the cost that rests on moved prices; None: nothing is priced
    cost_before: float | None  # on the day it is held against; None: a price is missing on one
    change_pct: float | None


@dataclass(frozen=True, kw_only=True)
class DishesOnADay(Answer):
    """Dishes on a day, by name."""

    on: date
    since: date | None  # the day each cost is held against
    currency: str
    market: str  # whose prices were asked for
    dishes: tuple[DishOnDay, ...]
    half_products: tuple[str, ...]  # left out: taken by other dishes only
    drafts: tuple[str, ...]  # left out: they begin after today


def cost_dishes(
    book: Book,
    dishes: Sequence[str] | None = None,
    *,
    on: Day,
    since: Day | None = None,
    half_products: bool = False,
    market: str | None = None,
    supplier: str | None = None,
    not_supplier: Sequence[str] = (),
) -> DishesOnADay:
    """Cost dishes (None or empty: all) on a day, each in the version in force.

    Of all dishes, drafts (no version has begun by today) are left out, and half-products (dishes
    that others take and that were never printed) unless asked for; both are named.
    Raises UnknownName, DateRefused, RecipeRefused, BookUnreadable.
    """
    from pricing.dishes.catalogue import cost_catalogue  # numpy and scipy only when needed

    on = asked_day(on)
    since = None if since is None else asked_day(since)
    with reading(book) as con:
        rule = asked_rule(
            con, read_settings(con), market=market, supplier=supplier, not_supplier=not_supplier
        )
        named = list(dict.fromkeys(find_dish(con, dish) for dish in dishes)) if dishes else None
        recipes = read_recipes(con, named)
        drafts, halves = _left_out(con, recipes, half_products) if named is None else ([], [])
        ids = named or [each for each in _by_name(recipes) if each not in {*drafts, *halves}]
        found = cost_catalogue(con, rule, [on] if since is None else [on, since], dish_ids=ids)
    return DishesOnADay(
        on=on,
        since=since,
        currency=rule.currency,
        market=rule.market,
        dishes=tuple(_told(found, recipes, ids, on, since)),
        half_products=tuple(_first(recipes, each).dish for each in halves),
        drafts=tuple(_first(recipes, each).dish for each in drafts),
    )


def _told(
    found: CatalogueCost, recipes: Recipes, ids: Sequence[int], on: date, since: date | None
) -> Iterator[DishOnDay]:
    """Yield each dish as costed on `on`, held against `since` where it is complete on both."""
    at, before = found.days.index(on), None if since is None else found.days.index(since)
    for place, dish_id in enumerate(ids):
        version, started = recipes.in_force(dish_id, on)
        cost, moved = float(found.cost[place, at]), float(found.moved[place, at])
        complete = bool(found.complete[place, at])
        earlier = None
        if before is not None and complete and found.complete[place, before]:
            earlier = float(found.cost[place, before])
        yield DishOnDay(
            dish=version.dish,
            group=version.group,
            version=version.version,
            version_in_force=started,
            recipe_day=recipes.recipe_day(version, on),
            cost_per_portion=cost,
            complete=complete,
            share_bridged=moved / cost if cost > 0 else None,
            cost_before=earlier,
            change_pct=100 * (cost / earlier - 1) if earlier else None,
        )


def _by_name(recipes: Recipes) -> list[int]:
    return sorted(recipes.versions, key=lambda each: _first(recipes, each).dish.casefold())


def _first(recipes: Recipes, dish_id: int) -> Version:
    return recipes.versions[dish_id][0]


def _left_out(con: Connection, recipes: Recipes, halves_too: bool) -> tuple[list[int], list[int]]:
    """Return the dishes that have not begun, and those that others take and nobody printed."""
    drafts = [each for each in _by_name(recipes) if _first(recipes, each).effective_from > today()]
    if halves_too:
        return drafts, []
    halves = half_product_ids(con) - set(drafts)
    return drafts, [each for each in _by_name(recipes) if each in halves]
