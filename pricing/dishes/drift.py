"""How a dish's cost per portion drifted: its cost on the 15th of each month."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from pricing.answer import Answer
from pricing.book.connect import Book, reading
from pricing.book.read import read_settings
from pricing.clock import today
from pricing.days import Day, costing_days, left_out_words, month_range, month_text, read_month_of
from pricing.dishes.recipes import find_dish
from pricing.prices.asked_rule import Filters, asked_rule

if TYPE_CHECKING:
    import pandas as pd

    from pricing.dishes.catalogue import CatalogueCost


@dataclass(frozen=True, kw_only=True)
class DriftPoint(Answer):
    """A dish on the 15th of a month."""

    month: str  # YYYY-MM
    version: str  # in force on that day, unless one was named
    recipe_day: date  # whose sub-recipes count
    cost_per_portion: float  # of the priced lines
    complete: bool
    share_observed: float | None  # of the cost; None when nothing is priced
    share_bridged: float | None


@dataclass(frozen=True, kw_only=True)
class DishDrift(Answer):
    """A dish over the months."""

    dish: str
    points: tuple[DriftPoint, ...]


@dataclass(frozen=True, kw_only=True)
class Drift(Answer):
    """Dishes over the months (contract §3)."""

    currency: str
    dishes: tuple[DishDrift, ...]
    remarks: tuple[str, ...] = ()

    def as_json(self) -> dict[str, object]:
        answer = super().as_json()
        del answer["remarks"]  # they go to stderr
        return answer


@dataclass(frozen=True, kw_only=True)
class _CostedMonths:
    currency: str
    remarks: tuple[str, ...]
    found: CatalogueCost | None  # None: no month is left to cost


def _cost_months(
    book: Book,
    dishes: Sequence[str] | None,
    months: Sequence[date],
    version: str | None,
    filters: Filters,
) -> _CostedMonths:
    from pricing.dishes.catalogue import cost_catalogue  # numpy and scipy only when they are needed

    days = costing_days(months, today())
    with reading(book) as con:
        rule = asked_rule(con, read_settings(con), **filters)
        ids = [find_dish(con, dish) for dish in dishes] if dishes else None
        found = None
        if days:
            found = cost_catalogue(con, rule, days, dish_ids=ids, version=version)
    return _CostedMonths(currency=rule.currency, remarks=left_out_words(months, days), found=found)


def drift_points(
    book: Book,
    dishes: Sequence[str] | None = None,
    *,
    start: Day,
    end: Day,
    version: str | None = None,
    market: str | None = None,
    not_supplier: Sequence[str] = (),
) -> Drift:
    """Cost dishes (None or empty: all) on the 15th of each month from `start` to `end` (YYYY-MM).

    `market` and `not_supplier` as in `cost_dish`. A month whose 15th is after today is left out,
    with a remark.
    Raises UnknownName, DateRefused, RecipeRefused, BookUnreadable.
    """
    filters: Filters = {"market": market, "not_supplier": not_supplier}
    months = month_range(read_month_of(start), read_month_of(end))
    costed = _cost_months(book, dishes, months, version, filters)
    found = costed.found
    return Drift(
        currency=costed.currency,
        dishes=()
        if found is None
        else tuple(
            DishDrift(dish=dish, points=tuple(_points(found, place)))
            for place, dish in enumerate(found.dishes)
        ),
        remarks=costed.remarks,
    )


def _points(found: CatalogueCost, place: int) -> Iterator[DriftPoint]:
    for day, label, recipe_day, cost, bridged, complete in zip(
        found.days,
        [found.labels[each] for each in found.label_of[place].tolist()],
        found.recipe_day[place].tolist(),
        found.cost[place].tolist(),
        found.moved[place].tolist(),
        found.complete[place].tolist(),
        strict=True,
    ):
        yield DriftPoint(
            month=month_text(day),
            version=label,
            recipe_day=recipe_day,
            cost_per_portion=cost,
            complete=complete,
            share_observed=(cost - bridged) / cost if cost > 0 else None,
            share_bridged=bridged / cost if cost > 0 else None,
        )


def drift(
    book: Book,
    dishes: Sequence[str] | None = None,
    *,
    start: Day,
    end: Day,
    version: str | None = None,
    market: str | None = None,
    not_supplier: Sequence[str] = (),
) -> pd.DataFrame:
    """Return the same as `drift_points` in a DataFrame, one row per dish and month.

    Columns: dish, month (YYYY-MM), version, recipe_day, cost_per_portion (the book's currency),
    complete, share_observed, share_bridged (0 to 1, NaN: nothing is priced). Ordered by dish as
    asked (all: by name), then month.
    """
    import numpy as np
    import pandas as pd

    filters: Filters = {"market": market, "not_supplier": not_supplier}
    months = month_range(read_month_of(start), read_month_of(end))
    found = _cost_months(book, dishes, months, version, filters).found
    if found is None:
        return pd.DataFrame(columns=["dish", *DriftPoint.__dataclass_fields__])
    cost = found.cost.ravel()
    bridged = np.full_like(cost, np.nan)
    np.divide(found.moved.ravel(), cost, out=bridged, where=cost > 0)
    dish, day = np.indices(found.cost.shape).reshape(2, -1)
    # words are taken from short lists: a million texts made one by one would cost more than dishes
    words = {
        "dish": (found.dishes, dish),
        "month": ([month_text(each) for each in found.days], day),
        "version": (found.labels, found.label_of.ravel()),
    }
    return pd.DataFrame(
        {
            **{name: pd.array(each, dtype="str").take(at) for name, (each, at) in words.items()},
            "recipe_day": found.recipe_day.ravel(),
            "cost_per_portion": cost,
            "complete": found.complete.ravel(),
            "share_observed": 1 - bridged,
            "share_bridged": bridged,
        }
    )
