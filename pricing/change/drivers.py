"""Which ingredients drove the cost of the catalogue between two dates."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from pricing.answer import Answer
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import read_settings, rows
from pricing.change.effects import price_effect, recipe_effect
from pricing.clock import refuse_future
from pricing.dishes.recipes import find_dish
from pricing.prices.packs_changed import PackChange, packs_changed_in
from pricing.prices.rule import Rule
from pricing.series.many_months import relative, usable_months

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from pricing.dishes.two_days import TwoDays

    Floats = NDArray[np.float64]


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
        settings = read_settings(con)
        ids = [find_dish(con, dish) for dish in dishes] if dishes else None
        catalogue = read_catalogue(con, ids)
        rule = Rule.of(settings)
        if not catalogue.dishes:
            return _nothing(settings.currency, then, now)
        found = two_days(con, rule, catalogue, (then, now))
        return _ranked(con, settings.currency, then, now, found)


def _nothing(currency: str, then: date, now: date) -> Drivers:
    return Drivers(
        currency=currency, then=then, now=now, dishes=0, mean_then=0.0, mean_now=0.0, change=0.0,
        price_effect=0.0, recipe_effect=0.0, complete=True, incomplete_dishes=(), ingredients=(),
    )  # fmt: skip


def _ranked(con: Connection, currency: str, then: date, now: date, found: TwoDays) -> Drivers:
    means = _means(found)
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
    size = abs(means.contribution)
    order = sorted(range(len(ids)), key=lambda i: (-size[i], facts[ids[i]]["name"]))
    gaps = tuple(
        dish
        for dish, complete in zip(found.catalogue.dishes, found.complete().tolist(), strict=True)
        if not complete
    )
    return Drivers(
        currency=currency,
        then=then,
        now=now,
        dishes=len(found.catalogue.dishes),
        mean_then=float(means.quantity[0] @ found.price[0]),
        mean_now=means.now,
        change=float(means.contribution.sum()),
        price_effect=float(means.price_effect.sum()),
        recipe_effect=float(means.recipe_effect.sum()),
        complete=not gaps,
        incomplete_dishes=gaps,
        ingredients=tuple(
            Driver(
                ingredient=(fact := facts[ids[i]])["name"],
                category=fact["category"],
                series=fact["series"],
                series_title=fact["title"],
                official_relative=relative(months, fact["series"], then, now),
                packs_changed=tuple(packs.get(fact["name"], ())),
                **_figures(found, means, i),
            )
            for i in order
            if means.dishes[i]
        ),
    )


@dataclass(frozen=True, kw_only=True)
class _Means:
    """What each ingredient does to the mean dish. Arrays are [ingredient]."""

    quantity: tuple[Floats, Floats]  # per portion, then and now
    price_effect: Floats
    recipe_effect: Floats
    contribution: Floats  # their sum
    now: float  # the mean cost per portion
    dishes: NDArray[np.int64]  # that take it on one of the days


def _means(found: TwoDays) -> _Means:
    import numpy as np

    count = len(found.catalogue.dishes)
    a0, a1 = (np.asarray(each.sum(axis=0)).ravel() / count for each in found.quantity)
    price = price_effect((a0, a1), found.price)
    recipe = recipe_effect((a0, a1), found.price)
    taken0, taken1 = (each.quantities != 0 for each in found.taken)
    return _Means(
        quantity=(a0, a1),
        price_effect=price,
        recipe_effect=recipe,
        contribution=price + recipe,
        now=float(a1 @ found.price[1]),
        dishes=np.asarray((taken0 + taken1).sum(axis=0)).ravel(),
    )


def _figures(found: TwoDays, means: _Means, i: int) -> dict[str, Any]:
    """Return the figures of the ingredient at place `i`."""
    (seen0, seen1), (bridged0, bridged1) = found.seen_price, found.bridged
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
        "marked": "missing" in basis or bool(found.unmeasured[i]),
    }


def _basis(unit_price: float, bridged: bool) -> str:
    if unit_price != unit_price:  # NaN
        return "missing"
    return "bridged" if bridged else "observed"
