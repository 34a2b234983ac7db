"""The kitchen's own index, worked out from its matrices: see measure.py for what it means."""

from __future__ import annotations

from collections.abc import Collection, Sequence

import numpy as np
from numpy.typing import NDArray

from pricing.days import month_text
from pricing.inflation.formulas import BY_TWO_BASKETS
from pricing.inflation.parts import Parts
from pricing.inflation.prepared import Bools, Floats, Prepared
from pricing.inflation.records import Inflation, LeftOut, MonthIndex
from pricing.inflation.twelve_months import rate_12_pct, year_before
from pricing.series.many_months import own_relative

Levels = Sequence[float | None]  # [day] first = 100; None: nothing is in the index
_MONTHLY = ("paasche", "fisher", "tornqvist")  # told of every month; all of them of the last


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
    level: Levels = (100 * total / total[0]).tolist() if costed else [None] * len(found.days)
    year = year_before(len(found.days) - 1)
    parts = Parts(found=found, value=value, total=total, counted=counted, year=year, price=price)
    return Inflation(
        currency=found.settings.currency,
        from_month=month_text(found.days[0]),
        to_month=month_text(found.days[-1]),
        dishes=len(found.dishes),
        cost_from=float(total[0]) / len(found.dishes) if costed else None,
        cost_to=float(total[-1]) / len(found.dishes) if costed else None,
        change_pct=None if level[-1] is None else level[-1] - 100,
        rate_12_pct=_rate(level, len(level) - 1),
        food_series=found.settings.food_series,
        all_items_series=found.settings.all_items_series,
        months=_months(found, basket, price, level, counted, costed),
        formulas=_formulas(basket, price, len(found.days) - 1) if costed else {},
        by_category=parts.by_category(),
        by_group=parts.by_group(),
        by_dish=parts.by_dish(),
        by_ingredient=parts.by_ingredient(),
        left_out=_left_out(found, ever & ~counted, gaps),
        half_products=found.half_products,
    )


def _months(
    found: Prepared, basket: Floats, price: Floats, level: Levels, counted: Bools, costed: bool
) -> tuple[MonthIndex, ...]:
    official = [found.settings.food_series, found.settings.all_items_series]
    months = []
    for at, day in enumerate(found.days):
        others = _formulas(basket, price, at, _MONTHLY) if costed else {}
        food, everything = (
            None if (r := own_relative(found.months, each, found.days[0], day)) is None else 100 * r
            for each in official
        )
        bridged = int((found.bridged[:, at] & counted).sum())
        old = int((found.old[:, at] & counted).sum())
        months.append(
            MonthIndex(
                month=month_text(day),
                index=level[at],
                paasche=others.get("paasche"),
                fisher=others.get("fisher"),
                tornqvist=others.get("tornqvist"),
                rate_12_pct=_rate(level, at),
                official_food=food,
                official_all=everything,
                observed=int(counted.sum()) - bridged - old,
                bridged=bridged,
                held=old,
            )
        )
    return tuple(months)


def _rate(level: Levels, at: int) -> float | None:
    before, now = year_before(at), level[at]
    return None if before is None or now is None else rate_12_pct(now, level[before])


def _formulas(
    basket: Floats, price: Floats, at: int, names: Collection[str] = tuple(BY_TWO_BASKETS)
) -> dict[str, float | None]:
    """Return the formulas' indices of a day against the first, over what either basket takes.

    None where a formula has no answer: Walsh and Vartia II weigh by what both baskets take, which
    may be nothing; Paasche by the basket of the day, which may be empty.
    """
    taken = (basket[0] > 0) | (basket[at] > 0)
    p0, p1 = price[taken, 0], price[taken, at]
    q0, q1 = basket[0][taken], basket[at][taken]
    with np.errstate(divide="ignore", invalid="ignore"):
        found = {name: 100 * BY_TWO_BASKETS[name](p0, q0, p1, q1) for name in names}
    return {name: index if np.isfinite(index) else None for name, index in found.items()}


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
