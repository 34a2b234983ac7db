"""Which ingredients drove the cost of the catalogue between two dates."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from pricing.answer import Answer
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import read_settings, rows
from pricing.change.effects import price_effect, recipe_effect
from pricing.change.left_out import why_left_out
from pricing.change.records import LeftOut
from pricing.clock import asked_day
from pricing.days import Day
from pricing.dishes.counted import Counted, read_counted
from pricing.dishes.recipes import find_dish
from pricing.prices.asked_rule import asked_rule
from pricing.prices.evidence import grid_prices
from pricing.prices.packs_changed import PackChange, packs_changed_in
from pricing.prices.rule import Rule
from pricing.series.ladder import narrowest_movements

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from pricing.dishes.two_days import TwoDays

    Floats = NDArray[np.float64]

Facts = Mapping[int, dict[str, Any]]  # ingredient id → a row of change/ingredient_facts.sql


@dataclass(frozen=True, kw_only=True)
class Driver(Answer):
    """One ingredient's part in the change of the mean cost per portion (contract §3)."""

    ingredient: str
    category: str | None
    contribution: float  # = price_effect + recipe_effect, currency per portion
    price_effect: float
    recipe_effect: float
    price_relative: float | None  # unit price now ÷ then; None unless priced on both dates
    dishes: int  # that take it on one of the dates and are compared in it, sub-recipes included
    share_now: float | None  # of the mean cost now
    official_relative: float | None  # of `series`, between the two months
    series: str | None  # narrowest of the ingredient's ladder that is usable in both months
    series_title: str | None
    basis_then: str  # observed, bridged or missing
    basis_now: str
    marked: bool  # its market was settled for both dates: market_then, market_now
    market_then: str | None = None  # shop or trade; None unless marked
    market_now: str | None = None
    packs_changed: tuple[PackChange, ...]  # between the dates


@dataclass(frozen=True, kw_only=True)
class LeftOutOf(LeftOut):
    """An ingredient that some dishes are compared without."""

    dishes: int


@dataclass(frozen=True, kw_only=True)
class Drivers(Answer):
    """What drove the mean cost per portion of some dishes (contract §3)."""

    currency: str
    then: date
    now: date
    dishes: int
    mean_then: float  # cost per portion, the mean over the dishes, of what is not left out
    mean_now: float
    change: float  # mean_now − mean_then = the sum of the contributions
    price_effect: float
    recipe_effect: float
    complete: bool  # nothing is left out of any dish
    incomplete_dishes: tuple[str, ...]
    drafts: tuple[str, ...] = ()  # dishes that begin after today, which do not count
    half_products: tuple[str, ...] = ()  # nor these, which only other dishes take
    ingredients: tuple[Driver, ...]  # largest contribution first, whichever its sign
    left_out: tuple[LeftOutOf, ...] = ()  # by name


def rank_drivers(
    book: Book,
    dishes: Sequence[str] | None = None,
    *,
    then: Day,
    now: Day,
    market: str | None = None,
    not_supplier: Sequence[str] = (),
) -> Drivers:
    """Rank the ingredients of dishes (None or empty: all) by what they added to the mean cost.

    Each dish is in the version in force on each date, and weighs one portion; a dish that begins
    after today does not count, nor does a half-product (others take it, and it was never printed)
    unless it is named. Per dish and ingredient, as in `compare`, then averaged: the price
    effect is a0(u1−u0), the recipe effect (a1−a0)u1. What of a dish cannot be compared is left out
    of all of it, and named. `market` is shop, trade or any (the book's setting unless stated),
    `not_supplier` leaves suppliers out.
    Raises UnknownName, DateRefused (a date after today), RecipeRefused, BookUnreadable.
    """
    from pricing.dishes.two_days import two_days  # numpy and scipy only when they are needed

    then, now = asked_day(then), asked_day(now)
    with reading(book) as con:
        settings = read_settings(con)
        ids = [find_dish(con, dish) for dish in dishes] if dishes else None
        counted = read_counted(con, ids)
        if not counted.catalogue.dishes:
            return _nothing(settings.currency, then, now, counted)
        rule = asked_rule(con, settings, market=market, not_supplier=not_supplier)
        found = two_days(con, rule, counted.catalogue, (then, now))
        return _ranked(con, rule, (then, now), found, counted)


def _nothing(currency: str, then: date, now: date, counted: Counted) -> Drivers:
    return Drivers(
        currency=currency, then=then, now=now, dishes=0, mean_then=0.0, mean_now=0.0, change=0.0,
        price_effect=0.0, recipe_effect=0.0, complete=True, incomplete_dishes=(),
        drafts=counted.drafts, half_products=counted.half_products, ingredients=(), left_out=(),
    )  # fmt: skip


def _ranked(
    con: Connection,
    rule: Rule,
    days: tuple[date, date],
    found: TwoDays,
    counted: Counted,
) -> Drivers:
    means = _means(found)
    facts = {
        row["ingredient_id"]: row
        for row in rows(
            con, "change/ingredient_facts", {"ingredients": found.catalogue.ingredient_ids.tolist()}
        )
    }
    gaps = tuple(
        dish
        for dish, complete in zip(found.catalogue.dishes, found.complete().tolist(), strict=True)
        if not complete
    )
    return Drivers(
        currency=rule.currency,
        then=days[0],
        now=days[1],
        dishes=len(found.catalogue.dishes),
        mean_then=float(means.quantity[0] @ found.price[0]),
        mean_now=means.now,
        change=float(means.contribution.sum()),
        price_effect=float(means.price_effect.sum()),
        recipe_effect=float(means.recipe_effect.sum()),
        complete=not gaps,
        incomplete_dishes=gaps,
        drafts=counted.drafts,
        half_products=counted.half_products,
        ingredients=_drivers(con, rule, days, found, means, facts),
        left_out=_left_out(con, rule, days, found, facts),
    )


def _drivers(
    con: Connection,
    rule: Rule,
    days: tuple[date, date],
    found: TwoDays,
    means: _Means,
    facts: Facts,
) -> tuple[Driver, ...]:
    """Return what each ingredient did, the largest contribution first."""
    named = {row["series"] for row in facts.values()}
    official = narrowest_movements(con, named, rule.food_series, days)
    packs: dict[str, list[PackChange]] = {}
    for change in packs_changed_in(con, None, first=min(days), last=max(days)):
        packs.setdefault(change.ingredient, []).append(change)
    drivers = []
    for i, each in enumerate(found.catalogue.ingredient_ids.tolist()):
        if not means.dishes[i]:
            continue
        moved = official[facts[each]["series"]]
        drivers.append(
            Driver(
                ingredient=facts[each]["name"],
                category=facts[each]["category"],
                packs_changed=tuple(packs.get(facts[each]["name"], ())),
                official_relative=moved.relative,
                series=moved.series,
                series_title=moved.title,
                **_figures(found, means, i),
            )
        )
    return tuple(sorted(drivers, key=lambda each: (-abs(each.contribution), each.ingredient)))


def _left_out(
    con: Connection,
    rule: Rule,
    days: tuple[date, date],
    found: TwoDays,
    facts: Facts,
) -> tuple[LeftOutOf, ...]:
    """Return what some dishes are compared without, and why."""
    ids = found.catalogue.ingredient_ids.tolist()
    dishes = found.left_out.sum(axis=0).ravel()
    out = {ids[i]: int(dishes[i]) for i in dishes.nonzero()[0].tolist()}
    pairs = {(each, day) for each in out for day in days}
    prices = grid_prices(con, rule, pairs) if pairs else {}
    why = why_left_out(
        con,
        rule,
        {each: (facts[each]["name"], facts[each]["base"]) for each in out},
        {each: (prices[each, days[0]], prices[each, days[1]]) for each in out},
        [each for i, each in enumerate(ids) if found.unmeasured[i]],
    )
    listed = (
        LeftOutOf(ingredient=facts[each]["name"], reason=why[each], dishes=many)
        for each, many in out.items()
    )
    return tuple(sorted(listed, key=lambda each: each.ingredient))


@dataclass(frozen=True, kw_only=True)
class _Means:
    """What each ingredient does to the mean dish. Arrays are [ingredient]."""

    quantity: tuple[Floats, Floats]  # per portion, then and now
    price_effect: Floats
    recipe_effect: Floats
    contribution: Floats  # their sum
    now: float  # the mean cost per portion
    dishes: NDArray[np.int64]  # that take it on one of the days, and are compared in it


def _means(found: TwoDays) -> _Means:
    import numpy as np

    count = len(found.catalogue.dishes)
    a0, a1 = (np.asarray(each.sum(axis=0)).ravel() / count for each in found.quantity)
    price = price_effect(a0, found.price)
    recipe = recipe_effect((a0, a1), found.price[1])
    then, now = found.quantity
    return _Means(
        quantity=(a0, a1),
        price_effect=price,
        recipe_effect=recipe,
        contribution=price + recipe,
        now=float(a1 @ found.price[1]),
        dishes=np.asarray(((then != 0) + (now != 0)).sum(axis=0)).ravel(),
    )


def _figures(found: TwoDays, means: _Means, i: int) -> dict[str, Any]:
    """Return the figures of the ingredient at place `i`."""
    (seen0, seen1), (bridged0, bridged1) = found.seen_price, found.bridged
    ingredient_id = int(found.catalogue.ingredient_ids[i])
    market0, market1 = found.settled.get(ingredient_id, (None, None))
    basis = _basis(seen0[i], bridged0[i]), _basis(seen1[i], bridged1[i])
    cost_now = float(means.quantity[1][i] * found.price[1][i])
    return {
        "contribution": float(means.contribution[i]),
        "price_effect": float(means.price_effect[i]),
        "recipe_effect": float(means.recipe_effect[i]),
        "price_relative": None if "missing" in basis else float(seen1[i] / seen0[i]),
        "dishes": int(means.dishes[i]),
        "share_now": cost_now / means.now if means.now > 0 else None,
        "basis_then": basis[0],
        "basis_now": basis[1],
        "marked": ingredient_id in found.settled,
        "market_then": market0,
        "market_now": market1,
    }


def _basis(unit_price: float, bridged: bool) -> str:
    if unit_price != unit_price:  # NaN
        return "missing"
    return "bridged" if bridged else "observed"
