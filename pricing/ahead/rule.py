"""The rule of the outlook: how far a basket's cost may move, learned from resolved forecasts alone.

In words: the middle is what the basket did on average over so many months in the past 20 years;
the ends lie as far out as the forecasts of the past 15 years, made by this same rule, needed for
four in five (or one in two) of them to hold.

A forecast from a month has a middle m, the mean of the changes up to that month, and a measure of
how lively the basket is, s, their standard deviation with weights that halve every ten years. Its
miss, once the change y is known, is |y − m| ÷ s. The range is m ± q s, q the quantile of the
misses known by then. Forecasts N months ahead of neighbouring months share most of their months, so
that n of them count as n ÷ N: the quantile is taken at share × (1 + N ÷ n), the usual step up for a
finite number (Lei and others, "Distribution-free predictive inference for regression", Journal of
the American Statistical Association 113, 2018, section 2.2).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pricing.ahead.history import Bools, Floats, Ints

SHARES = (0.5, 0.8)  # of forecasts that a range is to hold
MEAN_MONTHS = 240
HALF_LIFE_MONTHS = 120
LEARNED_MONTHS = 180
LEAST_CHANGES = 60  # known before a first forecast
_STILL = 1e-9  # a basket that hardly moved: its misses are not divided by nothing


@dataclass(frozen=True, kw_only=True)
class Forecasts:
    """Forecasts of baskets from every month, as logarithms of change; [month][basket]."""

    months: int  # ahead
    middle: Floats
    lively: Floats
    miss: Floats  # of the forecast that came due in the month, in its own `lively`; NaN = none


def forecasts(changes: Floats, months: int) -> Forecasts:
    """Return the forecasts from every month, of what was known then: `changes` up to it."""
    known = ~np.isnan(changes)
    told = np.where(known, changes, 0.0)
    middle = _last(told, MEAN_MONTHS) / np.maximum(_last(known, MEAN_MONTHS), 1)
    weight = known * 2.0 ** (np.arange(len(changes)) / HALF_LIFE_MONTHS)[:, None]
    total = np.maximum(np.cumsum(weight, axis=0), _STILL)
    mean = np.cumsum(weight * told, axis=0) / total
    spread = np.cumsum(weight * told**2, axis=0) / total - mean**2
    enough = np.cumsum(known, axis=0) >= LEAST_CHANGES
    middle = np.where(enough, middle, np.nan)
    lively = np.where(enough, np.sqrt(np.maximum(spread, _STILL**2)), np.nan)
    miss = np.full_like(changes, np.nan)
    miss[months:] = np.abs(changes[months:] - middle[:-months]) / lively[:-months]
    return Forecasts(months=months, middle=middle, lively=lively, miss=miss)


def _last(values: Floats | Bools, months: int) -> Floats:
    """Return the sum of the last `months` rows up to each row."""
    total = np.cumsum(values, axis=0, dtype=float)
    total[months:] -= total[:-months].copy()
    return total


def misses(found: Forecasts, month: int) -> Floats:
    """Return what was missed by the forecasts that came due by a month, [basket][rising]."""
    due = found.miss[max(0, month + 1 - LEARNED_MONTHS) : month + 1]
    return np.sort(due.T, axis=1)  # NaN stands last


def stretches(missed: Floats, months: int, shares: Sequence[float] = SHARES) -> list[Floats]:
    """Return by share, [basket], how many times `lively` a range reaches to either side.

    NaN where so few forecasts have come due that they cannot tell.

    >>> stretches(np.array([[1.0, 2.0, 3.0, 4.0, 5.0]]), months=1, shares=[0.5])
    [array([3.4])]

    The level is 0.5 × (1 + 1 ÷ 5) = 0.6; 0.6 of the way from the first to the fifth is 3.4.
    """
    many = np.count_nonzero(~np.isnan(missed), axis=1)
    rows = np.arange(len(missed))
    found = []
    for share in shares:
        level = share * (1 + months / np.maximum(many, 1))
        at = np.where(level <= 1, level * (many - 1), 0.0)
        below = at.astype(np.int64)
        above: Ints = np.minimum(below + 1, np.maximum(many - 1, 0))
        stretch = missed[rows, below] + (at - below) * (missed[rows, above] - missed[rows, below])
        found.append(np.where((level <= 1) & (many > 0), stretch, np.nan))
    return found


def share_within(missed: Floats, months: int, stretch: float) -> float:
    """Return the share of forecasts that a range of so many `lively` to either side holds.

    The other way round of `stretches`, for one basket; what lies beyond all misses is not known
    to be certain: at most 1 ÷ (1 + N ÷ n).

    >>> round(share_within(np.array([1.0, 2.0, 3.0, 4.0, 5.0]), 1, 3.4), 9)
    0.5
    """
    many = len(missed)
    levels = np.arange(many) / (many - 1) / (1 + months / many)
    return float(np.interp(stretch, np.r_[0.0, missed], np.r_[0.0, levels]))
