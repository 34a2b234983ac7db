"""Works out the kitchen's own index from its matrices: see measure.py for what it means."""

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
from pricing.clock import today
from pricing.days import month_text
from pricing.dishes.matrix import read_catalogue
from pricing.inflation.formulas import BY_TWO_BASKETS
from pricing.inflation.matched_products import by_stream, matched_relatives
from pricing.inflation.records import (
    GroupIndex,
    Inflation,
    IngredientIndex,
    LeftOut,
    Matched,
    MonthIndex,
)
from pricing.names import name_key
from pricing.prices.rule import Rule, ask_cross, source_columns
from pricing.prices.settled import Markets, compared_columns, one_market
from pricing.series.many_months import Months, relative, usable_months

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
A_YEAR = 12  # months
_MONTHLY = ("paasche", "fisher", "tornqvist")  # told of every month; all of them of the last


@dataclass(frozen=True, kw_only=True)
class Prepared:
    """What the index is worked out from. Ingredients in the order of their ids."""

    settings: Settings
    days: Sequence[date]
    dishes: tuple[str, ...]
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
    """Read the catalogue, its prices, its streams and the official series."""
    catalogue, _ = read_catalogue(con, ids).without_drafts(today())
    known = catalogue.ingredient_ids.tolist()
    grid = compared_columns(con, rule, known, days)
    asked = ask_cross(known, days, grid.forced)
    streams, owner = by_stream(source_columns(con, rule, asked), days)
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
        groups=catalogue.groups[taken.version].tolist(),
        facts=facts,
        price=np.asarray(grid.columns["unit_price"], dtype=float),
        bridged=np.asarray(grid.columns["bridged"], dtype=bool),
        old=np.asarray(grid.columns["held"], dtype=bool),
        settled=[grid.settled.get(each) for each in known],
        recipes=recipes,
        baskets=baskets,
        months=usable_months(con, series, days),
        matched=matched_relatives(streams, np.searchsorted(known, owner), len(known)),
    )


def worked_out(found: Prepared) -> Inflation:
    """Return the index, its parts, and what was left out."""
    ever = (found.baskets != 0).any(axis=0)  # NaN, unknown, is not 0
    unknown = np.isnan(found.baskets).any(axis=0)
    gaps = np.isnan(found.price).sum(axis=1)
    counted = ever & ~unknown & (gaps == 0)
    basket = np.where(counted, np.nan_to_num(found.baskets), 0.0)
    price = np.where(counted[:, None], found.price, 1.0)  # 1: a price that no basket takes
    value = basket[0][:, None] * price  # [ingredient][day] of the fixed recipes
    total = value.sum(axis=0)
    costed = total[0] > 0
    level = 100 * total / total[0] if costed else np.full(len(found.days), 100.0)
    year = len(found.days) - 1 - A_YEAR if len(found.days) > A_YEAR else None
    parts = _Parts(found=found, value=value, total=total, counted=counted, year=year, price=price)
    return Inflation(
        currency=found.settings.currency,
        from_month=month_text(found.days[0]),
        to_month=month_text(found.days[-1]),
        dishes=len(found.dishes),
        cost_from=float(total[0]) / max(len(found.dishes), 1),
        cost_to=float(total[-1]) / max(len(found.dishes), 1),
        change_pct=float(level[-1] - 100),
        rate_12_pct=None if year is None else _rate(level, len(level) - 1),
        food_series=found.settings.food_series,
        all_items_series=found.settings.all_items_series,
        months=_months(found, basket, price, level, counted, costed),
        formulas=_formulas(basket, price, len(found.days) - 1) if costed else {},
        by_category=parts.by_category(),
        by_group=parts.by_group(),
        by_dish=parts.by_dish(),
        by_ingredient=parts.by_ingredient(),
        left_out=_left_out(found, ever & ~counted, gaps),
    )


def _months(
    found: Prepared, basket: Floats, price: Floats, level: Floats, counted: Bools, costed: bool
) -> tuple[MonthIndex, ...]:
    official = [found.settings.food_series, found.settings.all_items_series]
    months = []
    for at, day in enumerate(found.days):
        others = _formulas(basket, price, at, _MONTHLY) if costed else {}
        food, everything = (
            None if (r := relative(found.months, each, found.days[0], day)) is None else 100 * r
            for each in official
        )
        bridged = int((found.bridged[:, at] & counted).sum())
        old = int((found.old[:, at] & counted).sum())
        months.append(
            MonthIndex(
                month=month_text(day),
                index=float(level[at]),
                paasche=others.get("paasche", 100.0),
                fisher=others.get("fisher", 100.0),
                tornqvist=others.get("tornqvist", 100.0),
                rate_12_pct=_rate(level, at),
                official_food=food,
                official_all=everything,
                observed=int(counted.sum()) - bridged - old,
                bridged=bridged,
                held=old,
            )
        )
    return tuple(months)


def _rate(level: Floats, at: int) -> float | None:
    return None if at < A_YEAR else float(100 * (level[at] / level[at - A_YEAR] - 1))


def _formulas(
    basket: Floats, price: Floats, at: int, names: Collection[str] = tuple(BY_TWO_BASKETS)
) -> dict[str, float]:
    """Return the formulas' indices of a day against the first, over what either basket takes."""
    taken = (basket[0] > 0) | (basket[at] > 0)
    p0, p1 = price[taken, 0], price[taken, at]
    q0, q1 = basket[0][taken], basket[at][taken]
    return {name: 100 * BY_TWO_BASKETS[name](p0, q0, p1, q1) for name in names}


@dataclass(frozen=True, kw_only=True)
class _Parts:
    """Splits the index of the fixed recipes into groups; the parts of each split add up."""

    found: Prepared
    value: Floats  # [ingredient][day]
    total: Floats  # [day]
    counted: Bools  # [ingredient]
    year: int | None  # the day a year before the last
    price: Floats  # [ingredient][day]

    def figures(self, value: Floats) -> dict[str, float | None]:
        """Return the figures of a group from what it costs each day."""
        first, last, whole = float(value[0]), float(value[-1]), float(self.total[0])
        before = None if self.year is None else float(value[self.year])
        all_before = None if self.year is None else float(self.total[self.year])
        return {
            "index": 100 * last / first if first > 0 else None,
            "share_from": first / whole if whole > 0 else 0.0,
            "contribution": 100 * (last - first) / whole if whole > 0 else 0.0,
            "rate_12_pct": 100 * (last / before - 1) if before else None,
            "contribution_12": 100 * (last - before) / all_before
            if before is not None and all_before
            else None,
        }

    def by_category(self) -> tuple[GroupIndex, ...]:
        names = [each["category"] for each in self.found.facts]
        taken = self.found.baskets[0] != 0
        groups = []
        for name in dict.fromkeys(names):
            here = np.array([each == name for each in names]) & taken
            if here.any():
                figures: Any = self.figures(self.value[here].sum(axis=0))
                complete = bool(self.counted[here].all())
                groups.append(GroupIndex(name=name, complete=complete, **figures))
        return tuple(sorted(groups, key=_largest_first))

    def dishes(self) -> tuple[Floats, Bools]:
        """Return what each dish of the fixed recipes costs each day, and which are complete."""
        known = self.found.recipes.copy()
        known.data = np.nan_to_num(known.data)
        costs = known @ np.where(self.counted[:, None], self.price, 0.0)
        pattern = self.found.recipes.copy()
        pattern.data = np.ones_like(pattern.data)
        return costs, pattern @ (~self.counted).astype(float) == 0

    def by_group(self) -> tuple[GroupIndex, ...]:
        """Return the groups that the kitchen gives its dishes; names compare as names do."""
        keys = [None if each is None else name_key(each) for each in self.found.groups]
        if not any(keys):
            return ()
        names: dict[str | None, str | None] = {}
        for key, name in zip(keys, self.found.groups, strict=True):
            names.setdefault(key, name)  # as the first dish writes it
        costs, complete = self.dishes()
        groups = []
        for key, name in names.items():
            here = np.array([each == key for each in keys])
            figures: Any = self.figures(costs[here].sum(axis=0))
            groups.append(GroupIndex(name=name, complete=bool(complete[here].all()), **figures))
        return tuple(sorted(groups, key=_largest_first))

    def by_dish(self) -> tuple[GroupIndex, ...]:
        costs, complete = self.dishes()
        groups = []
        for row, name in enumerate(self.found.dishes):
            figures: Any = self.figures(costs[row])
            groups.append(GroupIndex(name=name, complete=bool(complete[row]), **figures))
        return tuple(sorted(groups, key=_largest_first))

    def by_ingredient(self) -> tuple[IngredientIndex, ...]:
        found, groups = self.found, []
        for row in np.flatnonzero(self.counted & (found.baskets[0] != 0)).tolist():
            facts, figures = found.facts[row], self.figures(self.value[row])
            typed: Any = figures
            matched, settled = found.matched[row], found.settled[row]
            groups.append(
                IngredientIndex(
                    name=facts["name"],
                    complete=True,
                    category=facts["category"],
                    matched=matched if matched.streams or matched.chained is not None else None,
                    official_relative=relative(
                        found.months, facts["series"], found.days[0], found.days[-1]
                    ),
                    series=facts["series"],
                    marked=settled is not None,
                    market=None if settled is None else one_market(settled),
                    **typed,
                )
            )
        return tuple(sorted(groups, key=_largest_first))


def _largest_first(group: GroupIndex) -> tuple[float, str]:
    return -abs(group.contribution), (group.name or "").casefold()


def _left_out(found: Prepared, which: Bools, gaps: NDArray[np.int64]) -> tuple[LeftOut, ...]:
    takers = found.recipes.copy()
    takers.data = np.ones_like(takers.data)
    dishes = np.asarray(takers.sum(axis=0)).ravel()
    return tuple(
        LeftOut(
            ingredient=found.facts[row]["name"],
            months_missing=int(gaps[row]),
            dishes=int(dishes[row]),
        )
        for row in np.flatnonzero(which).tolist()
    )
