"""The reference tables of words in headings, rows and units, read once."""

from __future__ import annotations

import re
from functools import cache

from ingest.text.fold import fold
from pricing.reference.table import read_table

_FOLDER = "ingest.tables"


@cache
def headings() -> dict[str, tuple[str, ...]]:
    """Return folded heading → what a column under it holds, in the order of the table."""
    found: dict[str, list[str]] = {}
    for row in read_table("headings.csv", _FOLDER):
        found.setdefault(row["word"], []).append(row["meaning"])
    return {word: tuple(meanings) for word, meanings in found.items()}


@cache
def row_words() -> dict[str, str]:
    """Return folded words at the start of a row → total, tax, reduction or deposit."""
    return {row["word"]: row["row"] for row in read_table("row_words.csv", _FOLDER)}


@cache
def units() -> dict[str, str]:
    """Return folded word → the unit that packs are read in; "" for a package of unknown content."""
    return {row["word"]: row["unit"] for row in read_table("unit_words.csv", _FOLDER)}


def unit_named(text: str) -> str | None:
    """Return the unit a word stands for; "" for a package, None for a word that is no unit.

    >>> unit_named("Stk."), unit_named("KG"), unit_named("Karton"), unit_named("leek")
    ('each', 'kg', '', None)
    """
    return units().get(fold(text))


MEASURED = frozenset(("kg", "g", "mg", "l", "ml", "cl", "dl", "lb", "oz"))  # by weight or volume


@cache
def measured_words() -> str:
    """Return a pattern of the words for a weight or a volume, the longest first."""
    words = [word for word, unit in units().items() if unit in MEASURED]
    return "|".join(map(re.escape, sorted(words, key=lambda word: -len(word))))


@cache
def document_words() -> dict[str, str]:
    """Return folded words of a document's title → the kind of its prices."""
    return {row["word"]: row["kind"] for row in read_table("document_words.csv", _FOLDER)}
