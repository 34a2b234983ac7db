"""What proposals of a book rest on: its ingredients as matching knows them, and its decisions."""

from __future__ import annotations

from collections.abc import Mapping

from ingest.kinds.kitchen import Kitchen
from ingest.matching import known as matching
from ingest.matching.propose import Proposer
from pricing.book import tray
from pricing.book.connect import Connection


def matched_ingredients(
    kitchen: Kitchen, expected: Mapping[int, float]
) -> dict[int, matching.KnownIngredient]:
    """Return ingredient id → what matching knows of it; `expected` is a price per base unit."""
    return {
        each.ingredient_id: matching.KnownIngredient(
            ingredient_id=each.ingredient_id,
            name=each.name,
            facts=kitchen.facts(each),
            aliases=each.aliases,
            category=each.category,
            expected=expected.get(each.ingredient_id),
        )
        for each in kitchen.ingredients.values()
    }


def proposer(
    con: Connection, ingredients: Mapping[int, matching.KnownIngredient], measures: str
) -> Proposer:
    """Return who proposes what a description means, by names and by earlier decisions."""
    decided = [
        matching.Decided(
            words=each.words,
            ingredient_id=each.ingredient_id,
            pack=each.pack,
            product=each.product,
            sender=each.sender,
        )
        for each in tray.decisions(con)
    ]
    return Proposer(tuple(ingredients.values()), decided, measures)
