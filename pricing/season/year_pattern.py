"""Finds the pattern of the year in monthly values, and says how strong it is."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from statistics import fmean, pvariance

from pricing.days import month_text

LEAST_MONTHS = 36  # of history before a pattern is told


@dataclass(frozen=True, kw_only=True)
class YearPattern:
    """How a price goes through the year."""

    relatives: tuple[float, ...]  # January to December; 1 = the year's geometric mean
    strength: float  # 0 = no pattern of the year, 1 = nothing but the pattern
    first_month: str  # of the months it was seen in, YYYY-MM
    last_month: str


def year_pattern(values: Mapping[date, float]) -> YearPattern | None:
    """Return the pattern of the year in monthly values; None with under three years without a gap.

    The trend is the centred 12-month mean of the logarithms (2 × 12); a month's relative is the
    mean of its distances from the trend, scaled so that the twelve multiply to 1. Strength is
    1 − var(rest) ÷ var(season and rest), at least 0 (Wang, Smith and Hyndman, *Data Min. Knowl.
    Discov.* 13 (2006) 335–364; from memory).
    """
    run = _last_run(values)
    if len(run) < LEAST_MONTHS:
        return None
    logs = [math.log(value) for _, value in run]
    detrended: list[tuple[int, float]] = []
    for at in range(6, len(logs) - 6):
        window = logs[at - 6 : at + 7]
        trend = (sum(window) - (window[0] + window[-1]) / 2) / 12
        detrended.append((run[at][0].month, logs[at] - trend))
    by_month = [[gap for month, gap in detrended if month == m] for m in range(1, 13)]
    means = [fmean(gaps) for gaps in by_month]
    middle = fmean(means)
    season = [mean - middle for mean in means]
    rest = [gap - season[month - 1] for month, gap in detrended]
    whole = pvariance([gap for _, gap in detrended])
    return YearPattern(
        relatives=tuple(math.exp(each) for each in season),
        strength=max(0.0, 1 - pvariance(rest) / whole) if whole > 1e-18 else 0.0,
        first_month=month_text(run[0][0]),
        last_month=month_text(run[-1][0]),
    )


def _last_run(values: Mapping[date, float]) -> list[tuple[date, float]]:
    """Return the last months without a gap among them, in order. Keys are first days of months."""
    run: list[tuple[date, float]] = []
    for month in sorted(values, reverse=True):
        if run and _number(run[-1][0]) - _number(month) != 1:
            break
        run.append((month, values[month]))
    return run[::-1]


def _number(month: date) -> int:
    return 12 * month.year + month.month
