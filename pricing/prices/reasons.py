"""Says in a sentence why a price is missing, or why an old one was held as it is."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from pricing.book.connect import Connection
from pricing.book.read import rows
from pricing.days import day_words
from pricing.names import waiting_words
from pricing.prices.evidence import GridPrice
from pricing.prices.rule import Rule

WAITS = (
    "It waits in the tray: for which ingredient it is, or for a measure that it is counted in. See "
    "`portiondrift tray`, and load the decisions."
)
Sightings = dict[int, dict[str, Any]]  # ingredient id → a row of queries/prices/price_reasons.sql


def sightings(con: Connection, ingredient_ids: Collection[int], rule: Rule) -> Sightings:
    """Return what the book knows of ingredients without a price; nothing of one never seen."""
    if not ingredient_ids:
        return {}
    found = rows(
        con,
        "prices/price_reasons",
        {"ingredients": sorted(ingredient_ids), "currency": rule.currency},
    )
    return {row["ingredient_id"]: row for row in found}


def why_missing(name: str, price: GridPrice, rule: Rule, seen: dict[str, Any] | None) -> str:
    """Return why `name` has no price on the date under the rule, and what would mend it.

    `seen` is what `sightings` has of the ingredient.
    """
    if waiting_words(name) is not None:
        return WAITS
    if seen is None:
        return f"No price of {name} is in the book. Log one with `portiondrift price`."
    if seen["in_currency"] == 0:
        others = ", ".join(seen["other_currencies"])
        return (
            f"{name} has prices in {others} only; this costing is in {rule.currency}. "
            f"Log a price in {rule.currency}: currencies are never converted."
        )
    if rule.supplier is not None or rule.region is not None:
        where = rule.supplier or rule.region
        return f"No price of {name} from {where} can be used on {day_words(price.on_date)}."
    if rule.without:
        day = day_words(price.on_date)
        others = " and ".join(rule.without)
        return f"No price of {name} can be used on {day} without those of {others}."
    if seen["first_on"] is None:
        return f"{name} has been seen on offer only; offers do not count unless asked for."
    first = f"{name} was first seen on {day_words(seen['first_on'])}"
    if rule.basis == "observed":
        return f"{first}; on basis observed a later price is never used for an earlier date."
    day = day_words(price.on_date)
    return f"{first}, and no official series of the book reaches from then to {day}."


def why_unmeasured(name: str, amount: str, base: str | None) -> str:
    """Return why an amount of an ingredient cannot be costed, and what would mend it."""
    if waiting_words(name) is not None:
        return WAITS
    return (
        f"{amount} cannot be turned into {base}: a density, grams each, a measure or a yield is "
        "missing. Load the ingredient's facts again."
    )


def why_held(price: GridPrice, rule: Rule) -> str | None:
    """Return why a price older than the fresh limit was used as it is; None when it is fresh."""
    age = price.age_days
    if price.basis != "observed" or price.d0 is None or age is None or age <= rule.fresh_days:
        return None
    start = f"Held from {day_words(price.d0)}"
    if rule.basis == "observed":
        return f"{start}: basis observed takes the last price as it is."
    if price.named_series is None:
        return f"{start}: no official series is named for this ingredient."
    return f"{start}: its official series has no value for the months needed."
