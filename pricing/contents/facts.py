"""The facts that a book holds of one ingredient."""

from __future__ import annotations

from pricing.book import known
from pricing.book.connect import Book, reading
from pricing.book.known import KnownIngredient
from pricing.names import find


def ingredient_facts(book: Book, name: str) -> KnownIngredient:
    """Return the facts of an ingredient. Raises UnknownName with the nearest names."""
    with reading(book) as con:
        held = {each.name: each for each in known.ingredients(con)}
    return find(name, held, kind="ingredient")
