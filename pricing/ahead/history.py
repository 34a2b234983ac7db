"""The official history as a table of months and series, and what baskets did in it, as a whole."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from pricing.book.price_rule import USABLE_MONTHS

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

LOOKED_AT_MONTHS = 720  # of history: what was longer ago than sixty years does not count


@dataclass(frozen=True, kw_only=True)
class History:
    """Index values of series, month by month; only ratios inside one series mean something."""

    first: int  # number of the first month, counted from year 0
    places: dict[str, int]  # series id → its column
    value: Floats  # [month][series] usable in the month (design §5); NaN = not
    own: Bools  # [month][series] the office published a value of the month itself

    @property
    def last(self) -> date:
        """The first day of the last month."""
        return month_of(self.first + len(self.value) - 1)

    def up_to(self, months: int) -> History:
        """Return the first `months` of it."""
        return replace(self, value=self.value[:months], own=self.own[:months])


def month_number(day: date) -> int:
    """Return the number of a day's month, counted from year 0."""
    return day.year * 12 + day.month - 1


def month_of(number: int) -> date:
    """Return the first day of the month of this number.

    >>> month_of(month_number(date(2026, 11, 24)))
    datetime.date(2026, 11, 1)
    """
    return date(number // 12, number % 12 + 1, 1)


def history_of(series: Sequence[str], months: Sequence[date], values: Sequence[float]) -> History:
    """Return the history that three columns of equal length hold, in any order of rows."""
    places = {each: at for at, each in enumerate(sorted(set(series)))}
    at = np.array([month_number(each) for each in months], dtype=np.int64)
    first = max(int(at.min()), int(at.max()) - LOOKED_AT_MONTHS + 1)
    seen = at >= first
    table = np.full((int(at.max()) - first + 1, len(places)), np.nan)
    columns = np.array([places[each] for each in series], dtype=np.int64)
    table[at[seen] - first, columns[seen]] = np.asarray(values, dtype=float)[seen]
    return History(first=first, places=places, value=_usable(table), own=~np.isnan(table))


def _usable(table: Floats) -> Floats:
    """Return the table with a month without a value taking one of the usable months before it."""
    usable = table.copy()
    for back in range(1, USABLE_MONTHS + 1):
        earlier = np.full_like(table, np.nan)
        earlier[back:] = table[:-back]
        usable = np.where(np.isnan(usable), earlier, usable)
    return usable


def relatives(
    history: History, ladders: Sequence[Sequence[str]], months: int
) -> tuple[Floats, Ints]:
    """Return what each ladder did over `months` up to each month, and by which of its rungs.

    [month][ladder] later ÷ earlier, of the narrowest rung usable in both; NaN and −1: of none.
    """
    shape = (len(history.value), len(ladders))
    found, by = np.full(shape, np.nan), np.full(shape, -1)
    for at, rungs in enumerate(ladders):
        for step, rung in enumerate(rungs):
            value = history.value[:, history.places[rung]]
            missing = np.isnan(found[months:, at])
            moved = (value[months:] / value[:-months])[missing]
            found[months:, at][missing] = moved
            by[months:, at][missing] = np.where(np.isnan(moved), -1, step)
    return found, by


def basket_changes(moved: Floats, shares: Floats) -> Floats:
    """Return the logarithm of what baskets did: the mean of the relatives, weighted by shares.

    `moved` [month][item], `shares` [item][basket], of today's cost, adding up to 1. NaN where an
    item of the basket is not known. Taken together: each month's changes stay beside each other.
    """
    known = ~np.isnan(moved)
    lacking = (~known).astype(float) @ (shares > 0).astype(float) > 0
    whole = np.where(known, moved, 0.0) @ shares
    return np.log(np.where(lacking, np.nan, whole))


def own_changes(history: History, items: Iterable[str], months: int) -> Floats:
    """Return [month][item] what each series did up to a month; NaN where an end is not its own."""
    columns = [history.places[each] for each in items]
    value = np.where(history.own, history.value, np.nan)[:, columns]
    moved = np.full_like(value, np.nan)
    moved[months:] = value[months:] / value[:-months]
    return moved
