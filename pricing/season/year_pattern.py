"""Finds the pattern of the year in monthly values, and says how strong it is."""

from __future__ import annotations

import math
from collections.abc import Mapping
from datetime import date
from statistics import fmean, pvariance

LEAST_MONTHS = 36  # of history before a pattern is told


def pattern(values: Mapping[date, float]) -> tuple[tuple[float, ...], float] | None:
    """Return the relatives of January to December, and the strength, of monthly values.

    The trend is the centred 12-month mean of the logarithms (2 × 12); a month's relative is the
    mean of its distances from the trend, scaled so that the twelve multiply to 1. Strength is
    1 − var(rest) ÷ var(season and rest), at least 0 (Wang, Smith and Hyndman, *Data Min. Knowl.
    Discov.* 13 (2006) 335–364; from memory). None with under three years without a gap.
    """
    run = last_run(values)
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
    strength = max(0.0, 1 - pvariance(rest) / whole) if whole > 1e-18 else 0.0
    return tuple(math.exp(each) for each in season), strength


def last_run(values: Mapping[date, float]) -> list[tuple[date, float]]:
    """Return the last months without a gap among them, in order. Keys are first days of months."""
    run: list[tuple[date, float]] = []
    for month in sorted(values, reverse=True):
        if run and _number(run[-1][0]) - _number(month) != 1:
            break
        run.append((month, values[month]))
    return run[::-1]


def _number(month: date) -> int:
    return 12 * month.year + month.month
