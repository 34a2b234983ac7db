"""Says in a sentence what a chart finds: for those who hear it, and below its title in a file."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import pandas as pd

    from pricing.inflation.records import Inflation

from dashboard.words.inflation import level_words
from pricing.days import month_words


def course_words(points: pd.DataFrame, value: str, what: str) -> str:
    """Return how a line went: where it began and ended, and its highest and lowest.

    `points` are in order of time, with `value`, and with `shown` and `day` in words.
    """
    if points.empty:
        return f"{what}: no figure."
    first, last = points.iloc[0], points.iloc[-1]
    said = f"{what}: {_at(first)}"
    if len(points) == 1:
        return f"{said}."
    high, low = (points.loc[points[value].idxmax()], points.loc[points[value].idxmin()])
    return f"{said}, {_at(last)}; highest {_at(high)}, lowest {_at(low)}."


def _at(point: pd.Series[Any]) -> str:
    return f"{point['shown']} on {point['day']}"


def largest_words(parts: pd.DataFrame, most: int = 3) -> str:
    """Return which bars are largest, in the words in which each is read aloud."""
    ranked = parts.reindex(parts["amount"].abs().sort_values(ascending=False).index)
    told = [said for said, amount in zip(ranked["said"], ranked["amount"], strict=True) if amount]
    return f"The largest: {'; '.join(told[:most])}." if told else "Nothing moved."


def levels_words(found: Inflation) -> str:
    """Return where the kitchen's index and the official ones stand, each in its last month."""
    parts = []
    for name, field in (
        ("this kitchen", "index"),
        ("official food prices", "official_food"),
        ("all items", "official_all"),
    ):
        own = [each for each in found.months if each[field] is not None]
        if own:
            parts.append(f"{name} at {level_words(own[-1][field])} in {month_words(own[-1].month)}")
    said = f"{month_words(found.from_month)} = 100: {', '.join(parts)}"
    return f"{said}."
