"""What an ingredient cost: points for the chart of its price, and the observations as a table."""

from __future__ import annotations

import pandas as pd

from dashboard.tables.by_day import by_day
from dashboard.words.prices import pack_words
from dashboard.words.states import TYPICAL_MOVED, TYPICAL_SEEN
from pricing.days import DAY_OF_MONTH, day_words
from pricing.measures.unit_price import shown_unit, unit_price_words
from pricing.money import show_money
from pricing.prices.history import PriceHistory


def seen_frame(history: PriceHistory, measures: str) -> pd.DataFrame:
    """Return one row per observation in the book's currency: on, price, supplier, and words."""
    per, size = shown_unit(history.facts.base, measures)
    columns = ("on", "price", "supplier", "offer", "kind", "shown", "day", "pack")
    return by_day(
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


def typical_frame(history: PriceHistory, measures: str) -> pd.DataFrame:
    """Return one row per day with a typical price: month, on, price, state, version, and words."""
    per, size = shown_unit(history.facts.base, measures)
    return by_day(
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
    return by_day(
        (
            {"on": month.replace(day=DAY_OF_MONTH), "price": amount * size}
            for month, amount in history.official
        ),
        ("on", "price"),
    )


MOST_SHOWN = 500  # observations in the table


def observation_rows(history: PriceHistory, measures: str) -> pd.DataFrame:
    """Return the observations as a table, newest first."""
    return pd.DataFrame(
        [
            {
                "Seen on": seen.observed_on,
                "Paid": pack_words(seen),
                "Unit price": unit_price_words(
                    seen.unit_price, history.facts.base, seen.currency, measures
                ),
                "Supplier": seen.supplier or "",
                "Kind": seen.kind,
                "More": "; ".join(filter(None, (seen.product, seen.region, seen.note))),
                "Load": seen.load,
            }
            for seen in history.observations[:MOST_SHOWN]
        ]
    )
