"""Allergens in words: as entered, with the name of the law, and what is unknown."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dashboard.words.waiting import waiting_name
from pricing.contents.allergen_words import standard_names

if TYPE_CHECKING:
    from pricing.dishes.allergens import AllergensChanged, AllergensOfDish

LISTS = {
    "eu": "the 14 that European Union and United Kingdom law names",
    "us": "the nine that United States law names",
}


def allergen_words(
    added: tuple[str, ...] | str, removed: tuple[str, ...] | str, regime: str
) -> str:
    """Return what the records say comes in and goes out; unknown stays unknown."""
    comes = added if isinstance(added, str) else _names(added, regime)
    goes = removed if isinstance(removed, str) else _names(removed, regime)
    parts = []
    if comes:
        parts.append(f"adds {comes}" if comes != "unknown" else "added: unknown")
    if goes:
        parts.append(f"removes {goes}" if goes != "unknown" else "removed: unknown")
    return "; ".join(parts) or "no change in the records"


def dish_allergens_words(found: AllergensOfDish) -> str:
    """Return what the records of a dish's ingredients name, and whose are unknown."""
    named = _names(found.names, found.allergen_list) or "none named"
    names = ", ".join(map(waiting_name, found.unknown))
    unknown = f"; unknown of {names}" if names else ""
    return f"Allergens, by the ingredient records: {named}{unknown}. Check the labels."


def changed_allergens_words(found: AllergensChanged) -> str:
    """Return what the recipe of now does to the allergens of the one of then."""
    said = allergen_words(found.added, found.removed, found.allergen_list)
    return f"Allergens, by the ingredient records, from then to now: {said}. Check the labels."


def _names(entered: tuple[str, ...], regime: str) -> str:
    """Return names as entered, each with the law's name where that is another word."""
    said = []
    for name in entered:
        law = [
            each for each in standard_names([name], regime) if each.casefold() != name.casefold()
        ]
        said.append(f"{name} ({', '.join(law)})" if law else name)
    return ", ".join(said)
