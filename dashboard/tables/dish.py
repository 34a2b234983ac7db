"""One dish: its costed lines as a table, and frames for the chart of its cost."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

import pandas as pd

from dashboard.tables.by_day import by_day
from dashboard.words.dish import line_marks, moved_share
from dashboard.words.evidence import evidence_share, evidence_words
from dashboard.words.figures import (
    amount_words,
    figure,
    percent,
    quantity_words,
)
from dashboard.words.line_costs import Shown, shown_costs
from dashboard.words.markdown import dish_link, ingredient_link, link, plain, unbroken
from dashboard.words.printed import printed_words
from dashboard.words.states import state_of
from dashboard.words.waiting import waiting_name
from pricing.contents.choices import ListedVersion
from pricing.contents.printed import PrintedFigure
from pricing.days import DAY_OF_MONTH, day_words, month_words
from pricing.dishes.cost import DishCost
from pricing.dishes.drift import Drift
from pricing.measures.unit_price import unit_price_words
from pricing.money import show_money
from pricing.names import waiting_words
from pricing.prices.price_line import CostLine
from pricing.series.moved_amount import RebasedPath

_WHICH = {"food": "food prices", "all items": "all items"}


def drift_frame(found: Drift) -> pd.DataFrame:
    """Return one row per dish and month: dish, month, on, version, cost, state, and words."""
    columns = ("dish", "month", "on", "version", "cost", "state", "evidence", "shown", "day")
    return by_day(
        (
            {
                "dish": dish.dish,
                "month": point.month,
                "on": (on := date.fromisoformat(f"{point.month}-{DAY_OF_MONTH}")),
                "version": point.version,
                "cost": point.cost_per_portion,
                "state": state_of(point.complete, point.share_bridged),
                "evidence": evidence_share(point.share_bridged, point.complete),
                "shown": figure(point.cost_per_portion, point.complete, found.currency),
                "day": day_words(on),
            }
            for dish in found.dishes
            for point in dish.points
        ),
        columns,
    )


def with_day(points: pd.DataFrame, cost: DishCost) -> pd.DataFrame:
    """Return the points of a dish and, where it comes after them, its figure on the day itself."""
    if not points.empty and points["on"].iloc[-1].date() >= cost.on:
        return points
    share = moved_share(cost)
    day = by_day(
        [
            {
                "dish": cost.dish,
                "month": cost.on.isoformat(),
                "on": cost.on,
                "version": cost.version,
                "cost": cost.cost_per_portion,
                "state": state_of(cost.complete, share),
                "evidence": evidence_share(share, cost.complete),
                "shown": figure(cost.cost_per_portion, cost.complete, cost.currency),
                "day": day_words(cost.on),
            }
        ],
        list(points.columns),
    )
    return day if points.empty else pd.concat([points, day], ignore_index=True)


def printed_frame(figures: Iterable[PrintedFigure], currency: str, on: date) -> pd.DataFrame:
    """Return one row per printed figure in `currency`: on, cost, label, version, and words.

    A figure that is not out yet on the day `on` stands at the day it was costed for.
    """
    columns = ("on", "cost", "label", "shown", "day", "version", "place")
    return by_day(
        (
            {
                "on": figure.published_on if figure.published_on <= on else figure.costed_on,
                "cost": figure.cost_per_portion,
                "label": f"printed {show_money(figure.cost_per_portion, currency)}",
                "shown": printed_words(figure.cost_per_portion, figure.as_printed, currency),
                "day": day_words(figure.published_on),
                "version": figure.version,
                "place": figure.published_where or "not stated",
            }
            for figure in figures
            if figure.currency == currency
        ),
        columns,
    )


def rebased_frame(paths: Iterable[RebasedPath], currency: str) -> pd.DataFrame:
    """Return one row per series and month: which, on (the 15th), cost, and words."""
    return by_day(
        (
            {
                "which": _WHICH[path.which],
                "on": month.replace(day=DAY_OF_MONTH),
                "cost": amount,
                "shown": show_money(amount, currency),
                "day": month_words(month),
            }
            for path in paths
            for month, amount in path.points
        ),
        ("which", "on", "cost", "shown", "day"),
    )


def versions_frame(versions: Sequence[ListedVersion], first: date, last: date) -> pd.DataFrame:
    """Return one row per version in force from `first` to `last`: on, label.

    The one in force on `first`, if later ones follow, stands at `first`. A dish that keeps one
    version has no row.
    """
    later = [version for version in versions if first < version.effective_from <= last]
    before = [version for version in versions if version.effective_from <= first]
    marks = [(version.effective_from, version) for version in later]
    if later and (before or versions[0] not in later):
        marks.insert(0, (first, before[-1] if before else versions[0]))
    return by_day(
        ({"on": on, "label": f"version {version.version}"} for on, version in marks),
        ("on", "label"),
    )


def version_changes(points: pd.DataFrame) -> pd.DataFrame:
    """Return the same from one dish's `drift_frame`: the 15th on which each version first shows."""
    changed = points["version"] != points["version"].shift()
    if changed.sum() == 1:
        changed[:] = False  # one version throughout: nothing to tell apart
    return pd.DataFrame(
        {"on": points["on"][changed], "label": "version " + points["version"][changed]}
    )


_EM = "\u2003"  # a space that Markdown keeps


def rebased_words(rebased: pd.DataFrame) -> str:
    """Return what the printed figure would be by official series; "" without any."""
    ends = [path.iloc[-1] for _, path in rebased.groupby("which", sort=False)]
    if not ends:
        return ""
    parts = [f"{end['shown']} by {end['which']} ({month_words(end['on'])})" for end in ends]
    return f"Official prices alone would have brought the printed figure to {' or '.join(parts)}."


def line_rows(cost: DishCost, measures: str, *, unfold: bool) -> pd.DataFrame:
    """Return the costed lines as a table of Markdown; `unfold` shows those of sub-recipes too."""
    shown = shown_costs(cost)
    rows = [row for line in cost.lines for row in _rows(line, cost, measures, 0, unfold, shown)]
    columns = ["Ingredient", "Recipe", "As purchased", "Unit price", "Cost", "Share", "Evidence"]
    return pd.DataFrame(rows, columns=columns)


def _rows(
    line: CostLine, whole: DishCost, measures: str, depth: int, unfold: bool, costs: Shown
) -> Iterator[list[str]]:
    currency = whole.currency
    name = line.ingredient.removeprefix("dish:")
    if waiting_words(name) is not None:
        leads = link(waiting_name(name), "book", part="tray")
    else:
        leads = dish_link(name) if line.lines else ingredient_link(name)
    shown = f"{_EM * depth}{'↳ ' if depth else ''}{leads}"
    cost = show_money(costs.get(id(line)), currency)
    if line.lines and line.basis == "missing":
        cost = f"at least {cost}"
    price = unit_price_words(line.unit_price, line.base, currency, measures)
    yield [
        f"{shown}{plain(line_marks(line))}",
        unbroken(quantity_words(line.quantity, line.unit, 2)),
        unbroken(amount_words(line.as_purchased, line.base)),
        "" if line.lines else unbroken(price),
        unbroken(cost),
        unbroken(percent(line.share)),
        plain(evidence_words(line, whole.market)),
    ]
    if unfold:
        for inside in line.lines:
            yield from _rows(inside, whole, measures, depth + 1, unfold, costs)
