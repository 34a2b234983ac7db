"""Says what a price that was seen or entered comes to, and which series stands for it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from pricing.days import day_words, month_words
from pricing.measures.unit_price import unit_price_words
from pricing.money import show_money

if TYPE_CHECKING:
    from ingest.load import PricePreview
    from pricing.prices.history import Observation, PriceHistory


def understood(seen: PricePreview, fields: Mapping[str, str], measures: str) -> list[str]:
    """Return what was read, and how it stands to what the book expects."""
    tax = f" and {fields['tax_pct']} % tax" if fields["tax_pct"].strip() else ""
    where = f" at {fields['supplier']}" if fields["supplier"].strip() else ""
    each = unit_price_words(seen.unit_price, seen.base, seen.currency, measures)
    said = [
        f"{seen.ingredient}, seen on {day_words(seen.observed_on)}{where}: "
        f"{show_money(seen.price, seen.currency)}{tax} for {seen.pack}, that is {each}."
    ]
    if seen.expected is not None:
        about = unit_price_words(seen.expected, seen.base, seen.currency, measures)
        said.append(
            f"That is under a third or over three times what the book expects, about {about}."
            if seen.unusual
            else f"The book expects about {about} on that day."
        )
    if seen.already:
        said.append("The book holds this very price already.")
    return said


def series_words(history: PriceHistory) -> str:
    """Return which official series stands for the ingredient, and how it is drawn."""
    facts = history.facts
    if facts.series is None:
        return (
            "No official series is named for this ingredient, so an old price is held as it is. "
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
