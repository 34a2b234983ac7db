"""What the kitchen's own index is worked out from: recipes, prices and series, as matrices."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy import sparse

from pricing.book.connect import Connection
from pricing.book.read import Settings, rows
from pricing.dishes.counted import read_counted
from pricing.inflation.matched_products import by_source, matched_relatives
from pricing.inflation.records import Matched
from pricing.prices.rule import Rule, ask_cross, source_columns
from pricing.prices.settled import Markets, compared_columns
from pricing.series.many_months import Months, usable_months

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True, kw_only=True)
class Prepared:
    """What the index is worked out from. Ingredients in the order of their ids."""

    settings: Settings
    days: Sequence[date]
    dishes: tuple[str, ...]
    half_products: tuple[str, ...]  # left out: only other dishes take them
    groups: list[str | None]  # [dish] of the version in force on the last day
    facts: list[dict[str, Any]]  # [ingredient] name, category, series …
    price: Floats  # [ingredient][day]; NaN = missing
    bridged: Bools
    old: Bools  # an old price as it was
    settled: list[Markets | None]  # [ingredient] its markets by day, where they had to be settled
    recipes: sparse.csr_array  # [dish][ingredient] of the first month; NaN = unknown
    baskets: Floats  # [day][ingredient]: one portion of every dish, in the versions of the day
    months: Months
    matched: list[Matched]


def prepare(
    con: Connection,
    settings: Settings,
    rule: Rule,
    ids: Collection[int] | None,
    days: Sequence[date],
) -> Prepared:
    """Read the catalogue, its prices, its sources and the official series."""
    whole = read_counted(con, ids)
    catalogue = whole.catalogue
    known = catalogue.ingredient_ids.tolist()
    grid = compared_columns(con, rule, known, days)
    asked = ask_cross(known, days, grid.forced)
    sources, owner = by_source(source_columns(con, rule, asked), days)
    facts = rows(con, "change/ingredient_facts", {"ingredients": known})
    series = {settings.food_series, settings.all_items_series, *(each["series"] for each in facts)}
    taken = catalogue.on(con, days[0])
    recipes = taken.quantities
    baskets = np.empty((len(days), len(known)))
    for at, day in enumerate(days):
        taken = taken if at == 0 else catalogue.on(con, day)
        baskets[at] = np.asarray(taken.quantities.sum(axis=0)).ravel()
    return Prepared(
        settings=settings,
        days=days,
        dishes=catalogue.dishes,
        half_products=whole.half_products,
        groups=catalogue.groups[taken.version].tolist(),
        facts=facts,
        price=np.asarray(grid.columns["unit_price"], dtype=float),
        bridged=np.asarray(grid.columns["bridged"], dtype=bool),
        old=np.asarray(grid.columns["held"], dtype=bool),
        settled=[grid.settled.get(each) for each in known],
        recipes=recipes,
        baskets=baskets,
        months=usable_months(con, series, days),
        matched=matched_relatives(sources, np.searchsorted(known, owner), len(known)),
    )
