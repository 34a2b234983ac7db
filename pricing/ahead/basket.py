"""One basket's forecast from the last month of its official history."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from pricing.ahead.history import (
    LOOKED_AT_MONTHS,
    History,
    basket_changes,
    history_of,
    month_of,
    relatives,
)
from pricing.ahead.rule import (
    LEAST_CHANGES,
    MEAN_MONTHS,
    SHARES,
    forecasts,
    misses,
    share_within,
    stretches,
)
from pricing.book.connect import Connection
from pricing.book.read import columns
from pricing.errors import SeriesRefused

ENDED_MONTHS = 24  # a ladder that ended so long before the newest tells nothing of today


@dataclass(frozen=True, kw_only=True)
class Basket:
    """A forecast of what a basket's cost is multiplied by, and what it was learned from."""

    months: int  # ahead
    middle: float  # logarithm of the change
    lively: float
    missed: Sequence[float]  # by past forecasts, in `lively`, rising
    stretches: Mapping[float, float]  # share → times `lively`
    steps: Sequence[Sequence[int]]  # [item][change behind the middle] rung used; −1: none
    first: date  # month in which the first change behind the middle begins
    last: date  # last month of the history

    def moved(self, stretch: float) -> float:
        """Return the factor so many `lively` from the middle."""
        return math.exp(self.middle + stretch * self.lively)

    def chance(self, factor: float) -> float:
        """Return the chance that the cost is multiplied by so much or less."""
        off = (math.log(factor) - self.middle) / self.lively
        within = share_within(np.asarray(self.missed), self.months, abs(off))
        return (1 + math.copysign(within, off)) / 2


def basket_ahead(
    con: Connection, ladders: Sequence[Sequence[str]], costs: Sequence[float], months: int
) -> Basket:
    """Forecast a basket of items, each with its ladder of series and what is paid for it.

    An item without a series that reaches the present moves as the rest does.
    Raises SeriesRefused where the history is too short to learn from.
    """
    wanted = sorted({rung for rungs in ladders for rung in rungs})
    told = columns(con, "ahead/series_history", {"series": wanted, "months": LOOKED_AT_MONTHS})
    series = [str(each) for each in told["series"]]
    if not series:
        raise _too_short(months)
    history = history_of(series, told["month"].astype("datetime64[D]").tolist(), told["value"])
    return ahead_of(history, ladders, costs, months)


def ahead_of(
    history: History, ladders: Sequence[Sequence[str]], costs: Sequence[float], months: int
) -> Basket:
    """`basket_ahead` from a history."""
    held = [tuple(rung for rung in rungs if rung in history.places) for rungs in ladders]
    history = _cut(history, held)
    moved, steps = relatives(history, held, months)
    here = steps[-1] >= 0
    shares = np.where(here, costs, 0.0)
    changes = basket_changes(moved[:, here], (shares / shares.sum())[here, None])
    known = np.count_nonzero(~np.isnan(changes))
    if known < LEAST_CHANGES + 1:
        raise _too_short(months)
    found = forecasts(changes, months)
    missed = misses(found, len(changes) - 1)
    reach = [float(each[0]) for each in stretches(missed, months)]
    if any(math.isnan(each) for each in reach):
        raise _too_short(months)
    behind = np.flatnonzero(~np.isnan(changes[:, 0]))
    behind = behind[behind >= len(changes) - MEAN_MONTHS]
    return Basket(
        months=months,
        middle=float(found.middle[-1, 0]),
        lively=float(found.lively[-1, 0]),
        missed=missed[0][~np.isnan(missed[0])].tolist(),
        stretches=dict(zip(SHARES, reach, strict=True)),
        steps=[list(map(int, steps[behind, at])) for at in range(len(ladders))],
        first=month_of(history.first + int(behind[0]) - months),
        last=history.last,
    )


def _cut(history: History, ladders: Sequence[Sequence[str]]) -> History:
    """Return the history up to the last month that all ladders reach which are not long ended."""
    ends = [
        max(int(np.flatnonzero(history.own[:, history.places[rung]])[-1]) for rung in rungs)
        for rungs in ladders
        if rungs
    ]
    return history.up_to(min(end for end in ends if end > max(ends) - ENDED_MONTHS) + 1)


def _too_short(months: int) -> SeriesRefused:
    return SeriesRefused(
        f"Found too short an official history to learn from how far off forecasts {months} months "
        "ahead were; expected a wider series with some fifteen years more of months. Ask for fewer "
        "months ahead, or load a longer series with `portiondrift index load FILE`."
    )
