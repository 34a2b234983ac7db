"""What a swap saves per unit of the ingredient, day by day, and since when it is cheaper."""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from pricing.book.connect import Connection
from pricing.dishes.recipes import Recipes
from pricing.prices.rule import Rule, ask_cross, first_seen, grid_columns
from pricing.swaps.in_force import Purchase, Swap

Floats = NDArray[np.float64]
Goods = tuple[int, Purchase | None]  # an ingredient, at its default price or of one purchase

FIRST_LOOK = 400  # days back; each further look is as long as all before it
NO_DIFFERENCE = 1e-9  # of the ingredient's price: what rounding alone may leave


@dataclass(frozen=True, kw_only=True)
class Since:
    """The first day of the unbroken run of days, up to the day asked about, with the same word."""

    cheaper: date | None  # None: it is not cheaper now
    dearer: date | None
    whole: bool  # the run reaches back to the first day by which all prices had been seen


def in_its_place(swap: Swap, recipes: Recipes, on: date) -> dict[Goods, float] | None:
    """Return what takes the place of one base unit of the ingredient, in base units of each.

    Empty: it is left out. None: the dish that takes its place cannot be measured on that day.
    """
    if swap.substitute_id is not None:
        return {(swap.substitute_id, swap.purchase): swap.ratio}
    if swap.substitute_dish_id is None:
        return {}
    version, _ = recipes.in_force(swap.substitute_dish_id, on)
    if version.batch_weight_g is None:
        return None
    taken = recipes.per_portion(version, on)
    grams = version.batch_weight_g / version.portions  # per portion
    found: dict[Goods, float] = {}
    for each, quantity in taken.items():
        if quantity is None:
            return None
        found[each, None] = swap.ratio * quantity / grams
    return found


def unit_prices(
    con: Connection, rule: Rule, wanted: Collection[Goods], days: Sequence[date]
) -> dict[Goods, Floats]:
    """Return the unit price of all goods wanted on each of the days (ascending); NaN = missing."""
    by_purchase: dict[Purchase | None, list[int]] = defaultdict(list)
    for ingredient_id, purchase in sorted(set(wanted), key=lambda goods: goods[0]):
        by_purchase[purchase].append(ingredient_id)
    prices: dict[Goods, Floats] = {}
    for purchase, ids in by_purchase.items():
        narrowed = purchase.narrow(rule) if purchase else rule
        grid = grid_columns(con, narrowed, ask_cross(ids, days))
        rows = np.asarray(grid["unit_price"], dtype=float).reshape(len(ids), len(days))
        prices |= {(each, purchase): row for each, row in zip(ids, rows, strict=True)}
    return prices


def savings_per_unit(
    con: Connection, rule: Rule, swaps: Sequence[Swap], recipes: Recipes, days: Sequence[date]
) -> tuple[Floats, Floats]:
    """Return what each swap saves per base unit, and the ingredient's price: [swap][day].

    NaN where the ingredient, or anything that takes its place, has no price. `days` ascend.
    """
    plans = [list(_plan(swap, recipes, days)) for swap in swaps]
    wanted: set[Goods] = {(swap.ingredient_id, None) for swap in swaps}
    wanted |= {goods for plan in plans for _, _, taken in plan for goods in taken or {}}
    prices = unit_prices(con, rule, wanted, days)
    price = np.array([prices[swap.ingredient_id, None] for swap in swaps])
    saving = price.copy()
    for row, plan in zip(saving, plans, strict=True):
        for start, end, taken in plan:
            if taken is None:
                row[start:end] = np.nan
            for goods, amount in (taken or {}).items():
                row[start:end] -= amount * prices[goods][start:end]
    return saving, price


def _plan(
    swap: Swap, recipes: Recipes, days: Sequence[date]
) -> Iterator[tuple[int, int, dict[Goods, float] | None]]:
    """Yield stretches of days (places start to end) with what takes the ingredient's place."""
    breaks = [0]
    if swap.substitute_dish_id is not None:
        starts = {v.effective_from for each in recipes.versions.values() for v in each}
        breaks = sorted({0, *(bisect_left(days, each) for each in starts)})
    for start, end in zip(breaks, [*breaks[1:], len(days)], strict=True):
        if start < end:
            yield start, end, in_its_place(swap, recipes, days[start])


def cheaper_since(
    con: Connection, rule: Rule, swaps: Sequence[Swap], recipes: Recipes, on: date
) -> list[Since]:
    """Return since when each swap has been cheaper, or dearer, day by day up to `on`.

    It looks back to the first day by which all that the swap touches had been seen.
    """
    starts = _starts(con, rule, swaps, recipes, on)
    found: dict[int, Since] = {}
    signs: dict[int, tuple[int, date]] = {}  # place → sign today, first day of the run so far
    last, length = on, FIRST_LOOK
    while places := [at for at in range(len(swaps)) if at not in found and starts[at] <= last]:
        begin = max(min(starts[at] for at in places), last - timedelta(days=length - 1))
        days = [begin + timedelta(days=n) for n in range((last - begin).days + 1)]
        saving, price = savings_per_unit(con, rule, [swaps[at] for at in places], recipes, days)
        for at, row, unit in zip(places, saving, price, strict=True):
            sign = np.where(np.abs(row) > NO_DIFFERENCE * unit, np.sign(row), 0)
            sign[np.isnan(row)] = 0
            sign[np.array(days) < np.array(starts[at])] = 0
            now = signs.get(at, (int(sign[-1]), on))[0]
            other = np.flatnonzero(sign != now)
            if now == 0:
                found[at] = _since(0, on, starts[at])
            elif not len(other):
                signs[at] = now, begin  # all of this stretch belongs to the run
            elif other[-1] + 1 < len(days):
                found[at] = _since(now, days[int(other[-1]) + 1], starts[at])
            else:
                found[at] = _since(*signs[at], starts[at])
        last, length = begin - timedelta(days=1), 2 * length
    return [
        found.get(at) or _since(*signs.get(at, (0, on)), starts[at]) for at in range(len(swaps))
    ]


def _since(sign: int, day: date, start: date) -> Since:
    return Since(
        cheaper=day if sign > 0 else None,
        dearer=day if sign < 0 else None,
        whole=sign != 0 and day <= start,
    )


def _starts(
    con: Connection, rule: Rule, swaps: Sequence[Swap], recipes: Recipes, on: date
) -> list[date]:
    """Return the first day by which all that each swap touches had been seen; else after `on`."""
    touched = [_touched(swap, recipes, on) for swap in swaps]
    first: dict[int, date] = {}
    for (each, _), day in first_seen(con, rule, set().union(*touched)).items():
        first[each] = min(day, first.get(each, day))  # in whichever market

    def start(ids: Collection[int]) -> date:
        if not ids or any(each not in first for each in ids):
            return on + timedelta(days=1)
        return max(first[each] for each in ids)

    return [start(ids) for ids in touched]


def _touched(swap: Swap, recipes: Recipes, on: date) -> set[int]:
    """Return the ingredients whose prices a swap rests on; none where it cannot be measured."""
    taken = in_its_place(swap, recipes, on)
    return set() if taken is None else {swap.ingredient_id, *(each for each, _ in taken)}
