"""The pattern of the year in a price: in which months it is cheapest, and how strong that is."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from statistics import fmean, pvariance

from pricing.answer import Answer, month_text
from pricing.book.connect import Book, Connection, reading
from pricing.book.grid import Rule, ask_pairs, grid_rows
from pricing.book.read import rows, settings
from pricing.clock import today
from pricing.costing import cost_in
from pricing.errors import SeriesRefused
from pricing.monthly import DAY_OF_MONTH, month_range
from pricing.names_held import find_ingredient

YEARS = 10  # of history looked at: what the season was a generation ago says little
LEAST_MONTHS = 36  # of history before a pattern is told


@dataclass(frozen=True, kw_only=True)
class Season(Answer):
    """The pattern of the year of an ingredient or a dish."""

    name: str
    source: str  # official: by its series; own: by the kitchen's prices; mixed: of a dish
    series: str | None
    series_title: str | None
    first_month: str
    last_month: str
    relatives: tuple[float, ...]  # January to December; 1 = the year's geometric mean
    strength: float  # 0 = no pattern of the year, 1 = nothing but the pattern
    cheapest: int  # month, 1 to 12
    dearest: int
    spread_pct: float  # (dearest ÷ cheapest − 1) × 100


def pattern(values: Mapping[date, float]) -> tuple[tuple[float, ...], float] | None:
    """Return the relatives of January to December, and the strength, of monthly values.

    The trend is the centred 12-month mean of the logarithms (2 × 12); a month's relative is the
    mean of its distances from the trend, scaled so that the twelve multiply to 1. Strength is
    1 − var(rest) ÷ var(season and rest), at least 0 (Wang, Smith and Hyndman, *Data Min. Knowl.
    Discov.* 13 (2006) 335–364; from memory). None with under three years without a gap.
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
    strength = max(0.0, 1 - pvariance(rest) / whole) if whole > 1e-18 else 0.0
    return tuple(math.exp(each) for each in season), strength


def season_of_ingredient(book: Book, ingredient: str) -> Season:
    """Return the season of an ingredient over the last ten years that there are.

    By the kitchen's own prices where the last three years at least were seen in every month,
    without a bridge; else by its official series. Raises UnknownName, SeriesRefused (neither has
    three years without a gap), BookUnreadable.
    """
    with reading(book) as con:
        held = settings(con)
        facts = find_ingredient(con, ingredient)
        rule = Rule(currency=held.currency, fresh_days=held.fresh_days)
        own = _own(con, rule, facts.ingredient_id)
        if (found := pattern(own)) is not None:
            return _season(facts.ingredient, "own", None, None, own, found)
        official = _official(con, facts.series)
    if (found := pattern(official)) is not None:
        title = facts.series_title
        return _season(facts.ingredient, "official", facts.series, title, official, found)
    raise SeriesRefused(
        f"Found neither three years of own prices of {facts.ingredient} seen every month nor an "
        "official series of three years without a gap; expected one of them. Name a series for it "
        "in an ingredients file, and load it with --replace."
    )


def season_of_dish(book: Book, dish: str, *, on: date | None = None) -> Season:
    """Return the season of a dish: that of its ingredients, weighted by their cost on a day.

    Ingredients without a pattern count as even over the year; strength is the weighted mean.
    Raises UnknownName, DateRefused, SeriesRefused (no ingredient has a pattern), BookUnreadable.
    """
    on = today() if on is None else on
    with reading(book) as con:
        held = settings(con)
        rule = Rule(currency=held.currency, fresh_days=held.fresh_days)
        cost = cost_in(con, rule, dish, on=on)
    weights: dict[str, float] = {}
    for line in cost.ingredient_lines():
        weights[line.ingredient] = weights.get(line.ingredient, 0.0) + (line.cost or 0.0)
    found: list[tuple[float, Season | None]] = []
    for name, weight in weights.items():
        try:
            found.append((weight, season_of_ingredient(book, name)))
        except SeriesRefused:
            found.append((weight, None))
    known = [season for _, season in found if season is not None]
    whole = sum(weights.values())
    if not known or whole <= 0:
        raise SeriesRefused(
            f"Found no ingredient of '{cost.dish}' with a pattern of the year; expected one at "
            "least. Name official series for them in an ingredients file."
        )
    relatives = [
        sum(weight * (season.relatives[m] if season else 1.0) for weight, season in found) / whole
        for m in range(12)
    ]
    strength = (
        sum(weight * (season.strength if season else 0.0) for weight, season in found) / whole
    )
    return _told(
        cost.dish, "mixed", None, None,
        (min(each.first_month for each in known), max(each.last_month for each in known)),
        relatives, strength,
    )  # fmt: skip


def _own(con: Connection, rule: Rule, ingredient_id: int) -> dict[date, float]:
    """Return the typical price of every month that was seen, by the 15th, in the last ten years."""
    now = today()
    months = month_range(date(now.year - YEARS, now.month, 1), date(now.year, now.month, 1))
    days = [month.replace(day=DAY_OF_MONTH) for month in months]
    ask_pairs(con, {(ingredient_id, day) for day in days if day <= now})
    return {
        row["on_date"].replace(day=1): row["unit_price"]
        for row in grid_rows(con, rule, evidence=False)
        if row["basis"] == "observed" and (row["on_date"] - row["d0"]).days <= rule.fresh_days
    }


def _official(con: Connection, series: str | None) -> dict[date, float]:
    """Return the last ten years of a series; a month it did not publish takes the one before."""
    if series is None:
        return {}
    found: dict[date, float] = dict(
        con.execute(
            "SELECT month, value FROM series_value_now WHERE series = $series ORDER BY month",
            {"series": series},
        ).fetchall()
    )
    if not found:
        return {}
    last = max(found)
    first = max(min(found), date(last.year - YEARS, last.month, 1))
    usable = rows(con, "series_on", {"series": [series], "months": month_range(first, last)})
    return {row["month"]: row["value"] for row in usable}


def _last_run(values: Mapping[date, float]) -> list[tuple[date, float]]:
    """Return the last months without a gap among them, in order."""
    run: list[tuple[date, float]] = []
    for month in sorted(values, reverse=True):
        if run and _number(run[-1][0]) - _number(month) != 1:
            break
        run.append((month, values[month]))
    return run[::-1]


def _number(month: date) -> int:
    return 12 * month.year + month.month


def _season(
    name: str,
    source: str,
    series: str | None,
    title: str | None,
    values: Mapping[date, float],
    found: tuple[tuple[float, ...], float],
) -> Season:
    run = _last_run(values)
    ends = month_text(run[0][0]), month_text(run[-1][0])
    return _told(name, source, series, title, ends, *found)


def _told(
    name: str,
    source: str,
    series: str | None,
    title: str | None,
    ends: tuple[str, str],
    relatives: Sequence[float],
    strength: float,
) -> Season:
    low, high = min(relatives), max(relatives)
    return Season(
        name=name,
        source=source,
        series=series,
        series_title=title,
        first_month=ends[0],
        last_month=ends[1],
        relatives=tuple(relatives),
        strength=strength,
        cheapest=relatives.index(low) + 1,
        dearest=relatives.index(high) + 1,
        spread_pct=100 * (high / low - 1),
    )
