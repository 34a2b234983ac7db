"""Which ingredients drove the cost of the catalogue between two dates."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from pricing.answer import Answer
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import read_settings, rows
from pricing.clock import refuse_future
from pricing.dishes.recipes import find_dish
from pricing.prices.packs_changed import PackChange, packs_changed_in
from pricing.prices.rule import Rule
from pricing.series.many_months import relative, usable_months

if TYPE_CHECKING:
    from pricing.dishes.two_days import TwoDays


@dataclass(frozen=True, kw_only=True)
class Driver(Answer):
    """One ingredient's part in the change of the mean cost per portion (contract §3)."""

    ingredient: str
    category: str | None
    contribution: float  # = price_effect + recipe_effect, currency per portion
    price_effect: float
    recipe_effect: float
    price_relative: float | None  # unit price now ÷ then; None unless priced on both dates
    dishes: int  # that take it on one of the dates, sub-recipes included
    share_now: float | None  # of the mean cost now
    official_relative: float | None  # of `series`, between the two months
    series: str | None  # that the ingredient names
    series_title: str | None
    basis_then: str  # observed, bridged or missing
    basis_now: str
    marked: bool  # priced on one date only or on neither, or a line of it cannot be measured
    packs_changed: tuple[PackChange, ...]  # between the dates


@dataclass(frozen=True, kw_only=True)
class Drivers(Answer):
    """What drove the mean cost per portion of some dishes (contract §3)."""

    currency: str
    then: date
    now: date
    dishes: int
    mean_then: float  # cost per portion, the mean over the dishes
    mean_now: float
    change: float  # mean_now − mean_then = the sum of the contributions
    price_effect: float
    recipe_effect: float
    complete: bool  # every ingredient of every dish is priced on at least one of the dates
    incomplete_dishes: tuple[str, ...]
    ingredients: tuple[Driver, ...]  # largest contribution first, whichever its sign


def rank_drivers(
    book: Book, dishes: Sequence[str] | None = None, *, then: date, now: date
) -> Drivers:
    """Rank the ingredients of dishes (None or empty: all) by what they added to the mean cost.

    Each dish is in the version in force on each date, and weighs one portion. Effects are Bennet's
    (1920) per dish and ingredient, averaged: price ½(a0+a1)(u1−u0), recipe ½(u0+u1)(a1−a0).
    An ingredient priced on one date only takes that price on both, and is marked.
    Raises UnknownName, DateRefused (a date after today), RecipeRefused, BookUnreadable.
    """
    from pricing.dishes.matrix import read_catalogue  # numpy and scipy only when they are needed
    from pricing.dishes.two_days import two_days

    refuse_future(then)
    refuse_future(now)
    with reading(book) as con:
        held = read_settings(con)
        ids = [find_dish(con, dish) for dish in dishes] if dishes else None
        catalogue = read_catalogue(con, ids)
        rule = Rule.of(held)
        if not catalogue.dishes:
            return _nothing(held.currency, then, now)
        found = two_days(con, rule, catalogue, (then, now))
        return _ranked(con, held.currency, then, now, found)


def _nothing(currency: str, then: date, now: date) -> Drivers:
    return Drivers(
        currency=currency, then=then, now=now, dishes=0, mean_then=0.0, mean_now=0.0, change=0.0,
        price_effect=0.0, recipe_effect=0.0, complete=True, incomplete_dishes=(), ingredients=(),
    )  # fmt: skip


def _ranked(con: Connection, currency: str, then: date, now: date, found: TwoDays) -> Drivers:
    import numpy as np

    (q0, q1), (u0, u1) = found.quantity, found.price
    count = len(found.catalogue.dishes)
    a0, a1 = (np.asarray(q.sum(axis=0)).ravel() / count for q in (q0, q1))
    price_effect = 0.5 * (a0 + a1) * (u1 - u0)
    recipe_effect = 0.5 * (u0 + u1) * (a1 - a0)
    contribution = price_effect + recipe_effect
    mean_now = float(a1 @ u1)
    touched = np.asarray(
        ((found.taken[0].quantities != 0) + (found.taken[1].quantities != 0)).sum(axis=0)
    ).ravel()
    seen0, seen1 = found.seen_price
    marked = np.isnan(seen0) | np.isnan(seen1) | found.unmeasured
    ids = found.catalogue.ingredient_ids.tolist()
    facts = {
        row["ingredient_id"]: row
        for row in rows(con, "change/ingredient_facts", {"ingredients": ids})
    }
    months = usable_months(con, {row["series"] for row in facts.values()}, {then, now})
    packs: dict[str, list[PackChange]] = {}
    first, last = min(then, now), max(then, now)
    for change in packs_changed_in(con, None, first=first, last=last):
        packs.setdefault(change.ingredient, []).append(change)
    order = sorted(range(len(ids)), key=lambda i: (-abs(contribution[i]), facts[ids[i]]["name"]))
    drivers = tuple(
        _driver(
            facts[ids[i]],
            packs,
            contribution=float(contribution[i]),
            price_effect=float(price_effect[i]),
            recipe_effect=float(recipe_effect[i]),
            price_relative=None if np.isnan(seen0[i] + seen1[i]) else float(seen1[i] / seen0[i]),
            dishes=int(touched[i]),
            share_now=float(a1[i] * u1[i]) / mean_now if mean_now > 0 else None,
            official_relative=relative(months, facts[ids[i]]["series"], then, now),
            basis_then=_basis(seen0[i], found.bridged[0][i]),
            basis_now=_basis(seen1[i], found.bridged[1][i]),
            marked=bool(marked[i]),
        )
        for i in order
        if touched[i]
    )
    names = np.array(found.catalogue.dishes, dtype=object)
    gaps = tuple(names[~found.complete()].tolist())
    return Drivers(
        currency=currency,
        then=then,
        now=now,
        dishes=count,
        mean_then=float(a0 @ u0),
        mean_now=mean_now,
        change=float(contribution.sum()),
        price_effect=float(price_effect.sum()),
        recipe_effect=float(recipe_effect.sum()),
        complete=not gaps,
        incomplete_dishes=gaps,
        ingredients=drivers,
    )


def _driver(facts: dict[str, Any], packs: dict[str, list[PackChange]], **figures: Any) -> Driver:
    return Driver(
        ingredient=facts["name"],
        category=facts["category"],
        series=facts["series"],
        series_title=facts["title"],
        packs_changed=tuple(packs.get(facts["name"], ())),
        **figures,
    )


def _basis(unit_price: float, bridged: bool) -> str:
    if unit_price != unit_price:  # NaN
        return "missing"
    return "bridged" if bridged else "observed"
