"""The tables of the page of the kitchen's own inflation, and what each formula means."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date

import pandas as pd

from dashboard.words.figures import percent, signed_number, signed_rate
from dashboard.words.inflation import level_words, nameless
from dashboard.words.markdown import ingredient_link, plain, unbroken
from dashboard.words.states import ALL, FOOD, MOSTLY_MOVED, MOSTLY_SEEN, OWN
from pricing.book.price_rule import USABLE_MONTHS
from pricing.days import DAY_OF_MONTH, month_words
from pricing.inflation.records import GroupIndex, Inflation, IngredientIndex
from pricing.inflation.twelve_months import rate_12_pct

A_YEAR = 12  # months

MEANINGS = {  # formula → (its name, what it means in one line)
    "laspeyres": ("Fixed recipes (Laspeyres)", "what the recipes of the first month cost now"),
    "paasche": (
        "Recipes of now (Paasche)",
        "what the recipes of now cost, against what they would have cost in the first month",
    ),
    "fisher": ("Fisher", "the geometric mean of the two above: neither recipe has the last word"),
    "tornqvist": (
        "Törnqvist",
        "the mean change of the prices, each weighted by its share of cost at the two ends",
    ),
}


def level_frame(found: Inflation) -> pd.DataFrame:
    """Return the indices month by month, as charts.inflation takes them."""
    rows = []
    for which, field in ((OWN, "index"), (FOOD, "official_food"), (ALL, "official_all")):
        run = 0  # a month without a figure ends a line, and the next begins another
        for month in found.months:
            if month[field] is None:
                run += 1
                continue
            on = date.fromisoformat(f"{month.month}-{DAY_OF_MONTH}")
            rows.append(
                {
                    "which": which,
                    "on": on,
                    "level": month[field],
                    "run": run,
                    "state": MOSTLY_MOVED
                    if which == OWN and month.bridged > month.observed + month.held
                    else MOSTLY_SEEN,
                    "shown": level_words(month[field]),
                    "month": month_words(on),
                }
            )
    frame = pd.DataFrame(rows)
    frame["on"] = pd.to_datetime(frame["on"])
    return frame


def missing_series(found: Inflation) -> list[str]:
    """Return which official index there is none of to lay beside the kitchen's own."""
    return [
        name
        for name, series, field in (
            (FOOD, found.food_series, "official_food"),
            (ALL, found.all_items_series, "official_all"),
        )
        if series is None or all(month[field] is None for month in found.months)
    ]


def formula_rows(found: Inflation) -> pd.DataFrame:
    """Return each formula's index of the last month, with what it means."""
    return pd.DataFrame(
        [
            {
                "Formula": name,
                "Index": level_words(found.formulas[each]),
                "Means": means,
            }
            for each, (name, means) in MEANINGS.items()
            if each in found.formulas
        ]
    )


def rate_rows(found: Inflation) -> pd.DataFrame:
    """Return the 12-month rates of the same month of every year, newest first; may be empty."""
    places = range(len(found.months) - 1, A_YEAR - 1, -A_YEAR)
    return pd.DataFrame(
        [
            {
                "Twelve months to": month_words(month.month),
                "This kitchen": unbroken(signed_rate(month.rate_12_pct)),
                "Food prices": _official_rate(found, "official_food", at),
                "All items": _official_rate(found, "official_all", at),
                "Seen": str(month.observed),
                "Estimated": str(month.bridged),
                "Held": str(month.held),
            }
            for at in places
            for month in [found.months[at]]
        ]
    )


def _official_rate(found: Inflation, field: str, at: int) -> str:
    """Return a series' rate to a month, or to the latest before it that the series has.

    Both months are the series' own, and the later one is not older than a series may be held.
    """
    for place in range(at, max(at - USABLE_MONTHS, A_YEAR) - 1, -1):
        now, before = found.months[place][field], found.months[place - A_YEAR][field]
        if now is not None and before is not None:
            rate = unbroken(signed_rate(rate_12_pct(now, before)))
            month = unbroken(month_words(found.months[place].month))
            return rate if place == at else f"{rate} (to {month})"
    return "—"


def group_rows(
    title: str, groups: Sequence[GroupIndex], leads: Callable[[str], str] | None = None
) -> pd.DataFrame:
    """Return groups, what each added to the whole, as a table of Markdown.

    `leads` makes a link of a group's name.
    """
    return pd.DataFrame(
        [
            {
                title: (
                    leads(group.name)
                    if leads and group.name
                    else plain(group.name or nameless(title))
                )
                + ("" if group.complete else " (not complete)"),
                "Share at first": unbroken(percent(group.share_from)),
                "Index": level_words(group.index),
                "Points": unbroken(signed_number(group.contribution)),
                "12 months": unbroken(signed_rate(group.rate_12_pct)),
                "Points of it": unbroken(
                    "—"
                    if group.contribution_12 is None
                    else signed_number(group.contribution_12, 2)
                ),
            }
            for group in groups
        ]
    )


def ingredient_rows(groups: Sequence[IngredientIndex]) -> pd.DataFrame:
    """Return each ingredient's price beside matched products and its official series, 100 = first.

    Matched: the same products at the same suppliers, seen on both ends (Jevons).
    """
    return pd.DataFrame(
        [
            {
                "Ingredient": ingredient_link(group.name or ""),
                "Share at first": unbroken(percent(group.share_from)),
                "Index": level_words(group.index),
                "Matched products": _matched(group),
                "Official": _hundred(group.official_relative),
                "Points": unbroken(signed_number(group.contribution, 2)),
            }
            for group in groups
        ]
    )


def _matched(group: IngredientIndex) -> str:
    if group.matched is None or group.matched.relative is None:
        return "—"
    return unbroken(f"{_hundred(group.matched.relative)} ({group.matched.sources})")


def _hundred(relative: float | None) -> str:
    return level_words(None if relative is None else 100 * relative)
