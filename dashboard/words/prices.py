"""Says what was paid for a price that was seen, and which series stands for an ingredient."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pricing.days import month_words
from pricing.money import show_money

if TYPE_CHECKING:
    from pricing.prices.history import Observation, PriceHistory


def series_words(history: PriceHistory, food_series: str | None) -> str:
    """Return which official series stands for the ingredient, and how it is drawn.

    `food_series` is the book's, which moves what has no series of its own.
    """
    facts = history.facts
    if facts.series is None:
        return (
            "No official series is named for this ingredient, so an old price is "
            f"{'moved by food as a whole' if food_series else 'held as it is'}. "
            "Name one in its ingredients file and load that again."
        )
    name = f"Its official series is {facts.series_title or facts.series} ({facts.series})"
    if not history.official:
        return f"{name}; it has no month in common with the prices seen."
    last = month_words(history.official[-1][0])
    return f"{name}, drawn up to {last} at the level that meets the prices seen best."


def pack_words(seen: Observation) -> str:
    """Return what was paid: "$3.19 for 1 lb", with the tax when it comes on top."""
    paid = f"{show_money(seen.price, seen.currency)} for {seen.pack}"
    return f"{paid} and {seen.tax_pct.normalize():f} % tax" if seen.tax_pct else paid
