"""Turns answers of pricing into tidy frames, ready to draw: times, floats, and their words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

import pandas as pd

from dashboard.answers import percent
from dashboard.charts.price_of_ingredient import TYPICAL_MOVED, TYPICAL_SEEN
from dashboard.charts.spans import state_of
from dashboard.words import figure
from pricing.contents.choices import ListedVersion
from pricing.contents.printed import Claim
from pricing.days import DAY_OF_MONTH, day_words, month_words
from pricing.dishes.drift import Drift
from pricing.measures.unit_price import shown_unit
from pricing.money import show_money
from pricing.prices.history import Observation, PriceHistory
from pricing.series.moved_amount import RebasedPath

_WHICH = {"food": "food prices", "all items": "all items"}


def evidence_share(share_bridged: float | None, complete: bool) -> str:
    """Return how much of a figure was seen and how much was moved."""
    if share_bridged is None:
        return "nothing has a price"
    if share_bridged in (0.0, 1.0):
        words = f"all {'moved by an official index' if share_bridged else 'from prices seen'}"
    elif share_bridged < 0.005:
        words = "nearly all from prices seen, a little moved by an official index"
    elif share_bridged > 0.995:
        words = "nearly all moved by an official index, a little from prices seen"
    else:
        words = (
            f"{percent(1 - share_bridged)} from prices seen, "
            f"{percent(share_bridged)} moved by an official index"
        )
    return words if complete else f"{words}; a price is missing"


def _frame(rows: Iterable[dict[str, object]], columns: Sequence[str]) -> pd.DataFrame:
    made = pd.DataFrame(list(rows), columns=list(columns))
    made["on"] = pd.to_datetime(made["on"])
    return made


def drift_frame(found: Drift) -> pd.DataFrame:
    """Return one row per dish and month: dish, month, on, version, cost, state, and words."""
    columns = ("dish", "month", "on", "version", "cost", "state", "evidence", "shown", "day")
    return _frame(
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


def printed_frame(claims: Iterable[Claim], currency: str) -> pd.DataFrame:
    """Return one row per published figure in `currency`: on, cost, label, version, and words."""
    columns = ("on", "cost", "label", "shown", "day", "version", "place")
    return _frame(
        (
            {
                "on": claim.published_on,
                "cost": claim.cost_per_portion,
                "label": f"printed {show_money(claim.cost_per_portion, currency)}",
                "shown": show_money(claim.cost_per_portion, currency),
                "day": day_words(claim.published_on),
                "version": claim.version,
                "place": claim.published_where or "not stated",
            }
            for claim in claims
            if claim.currency == currency
        ),
        columns,
    )


def rebased_frame(paths: Iterable[RebasedPath], currency: str) -> pd.DataFrame:
    """Return one row per series and month: which, on (the 15th), cost, and words."""
    return _frame(
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
    return _frame(
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


def seen_frame(history: PriceHistory, measures: str) -> pd.DataFrame:
    """Return one row per observation in the book's currency: on, price, supplier, and words."""
    per, size = shown_unit(history.facts.base, measures)
    columns = ("on", "price", "supplier", "offer", "kind", "shown", "day", "pack")
    return _frame(
        (
            {
                "on": seen.observed_on,
                "price": seen.unit_price * size,
                "supplier": seen.supplier or "place not stated",
                "offer": seen.kind == "offer",
                "kind": seen.kind,
                "shown": f"{show_money(seen.unit_price * size, history.currency)} {per}",
                "day": day_words(seen.observed_on),
                "pack": pack_words(seen),
            }
            for seen in history.observations
            if seen.currency == history.currency and seen.unit_price is not None
        ),
        columns,
    )


def pack_words(seen: Observation) -> str:
    """Return what was paid: "$3.19 for 1 lb", with the tax when it comes on top."""
    paid = f"{show_money(seen.price, seen.currency)} for {seen.pack}"
    return f"{paid} and {seen.tax_pct.normalize():f} % tax" if seen.tax_pct else paid


def typical_frame(history: PriceHistory, measures: str) -> pd.DataFrame:
    """Return one row per day with a typical price: month, on, price, state, version, and words."""
    per, size = shown_unit(history.facts.base, measures)
    return _frame(
        (
            {
                "month": each.on.isoformat(),
                "on": each.on,
                "price": each.unit_price * size,
                "state": TYPICAL_MOVED if each.basis == "bridged" else TYPICAL_SEEN,
                "version": "",
                "shown": f"{show_money(each.unit_price * size, history.currency)} {per}",
                "day": day_words(each.on),
            }
            for each in history.typical
        ),
        ("month", "on", "price", "state", "version", "shown", "day"),
    )


def official_frame(history: PriceHistory, measures: str) -> pd.DataFrame:
    """Return one row per month of the official series, laid over: on (the 15th), price."""
    _, size = shown_unit(history.facts.base, measures)
    return _frame(
        (
            {"on": month.replace(day=DAY_OF_MONTH), "price": amount * size}
            for month, amount in history.official
        ),
        ("on", "price"),
    )
