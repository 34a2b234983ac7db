"""Many dishes on one day: what a portion of each costs, and what it cost some time before."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
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
from pricing.prices.rule import Rule
from pricing.prices.settled import Markets

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
    # on the day it is held against, and the change since: as `compare` has them, each ingredient in
    # one market; None: something cannot be compared
    cost_before: float | None
    change_pct: float | None
    marked: bool  # a market was settled for that, so that the cost of `on` in it may be another


@dataclass(frozen=True, kw_only=True)
class Settled(Answer):
    """An ingredient whose market would differ between the two days."""

    ingredient: str
    market_then: str | None
    market_now: str | None


@dataclass(frozen=True, kw_only=True)
class DishesOnADay(Answer):
    """Dishes on a day, by name."""

    on: date
    since: date | None  # the day each cost is held against
    currency: str
    market: str  # whose prices were asked for
    dishes: tuple[DishOnDay, ...]
    settled: tuple[Settled, ...]  # for the comparison with `since`, by name
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
    that others take and that were never printed) unless asked for; both are named. Held against
    `since`, each ingredient counts in one market on both days if it can, as in `compare`.
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
        found = cost_catalogue(con, rule, [on], dish_ids=ids)
        held = _Held() if since is None else _held_against(con, rule, ids, (since, on))
    return DishesOnADay(
        on=on,
        since=since,
        currency=rule.currency,
        market=rule.market,
        dishes=tuple(_told(found, held, recipes, ids)),
        settled=_settled(held, recipes),
        half_products=tuple(_first(recipes, each).dish for each in halves),
        drafts=tuple(_first(recipes, each).dish for each in drafts),
    )


@dataclass(frozen=True, kw_only=True)
class _Held:
    """Dishes held against a day before, those that can be compared whole; empty without a day."""

    costs: Mapping[int, tuple[float, float]] = field(default_factory=dict)  # before, on the day
    marked: Collection[int] = ()  # dishes of which a market was settled
    settled: Mapping[int, Markets] = field(default_factory=dict)  # ingredient id → before, on it


def _held_against(
    con: Connection, rule: Rule, ids: Sequence[int], days: tuple[date, date]
) -> _Held:
    from pricing.dishes.matrix import read_catalogue  # numpy and scipy only when needed
    from pricing.dishes.two_days import two_days

    both = two_days(con, rule, read_catalogue(con, ids), days)
    before, now = ((q @ p).tolist() for q, p in zip(both.quantity, both.price, strict=True))
    whole = both.complete().tolist()
    places, ingredients = (both.quantity[0] + both.quantity[1]).nonzero()
    taken = both.catalogue.ingredient_ids[ingredients].tolist()
    settled = [
        (ids[place], each)
        for place, each in zip(places.tolist(), taken, strict=True)
        if each in both.settled
    ]
    return _Held(
        costs={each: (before[at], now[at]) for at, each in enumerate(ids) if whole[at]},
        marked={dish_id for dish_id, _ in settled},
        settled={each: both.settled[each] for _, each in settled},
    )


def _told(
    found: CatalogueCost, held: _Held, recipes: Recipes, ids: Sequence[int]
) -> Iterator[DishOnDay]:
    """Yield each dish as costed on the day, held against the day before where it can be."""
    (on,) = found.days
    for place, dish_id in enumerate(ids):
        version, started = recipes.in_force(dish_id, on)
        cost, moved = float(found.cost[place, 0]), float(found.moved[place, 0])
        before, now = held.costs.get(dish_id, (None, 0.0))
        yield DishOnDay(
            dish=version.dish,
            group=version.group,
            version=version.version,
            version_in_force=started,
            recipe_day=recipes.recipe_day(version, on),
            cost_per_portion=cost,
            complete=bool(found.complete[place, 0]),
            share_bridged=moved / cost if cost > 0 else None,
            cost_before=before,
            change_pct=100 * (now / before - 1) if before else None,
            marked=dish_id in held.marked,
        )


def _settled(held: _Held, recipes: Recipes) -> tuple[Settled, ...]:
    names = {
        line.ingredient_id: line.name
        for lines in recipes.lines.values()
        for line in lines
        if line.ingredient_id in held.settled
    }
    return tuple(
        Settled(ingredient=names[each], market_then=then, market_now=now)
        for each, (then, now) in sorted(
            held.settled.items(), key=lambda each: names[each[0]].casefold()
        )
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
