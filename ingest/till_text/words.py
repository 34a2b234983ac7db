"""The words by which a till's text is read: of words.csv."""

from __future__ import annotations

import re
from functools import cache

from ingest.recipes.words import choice
from pricing.reference.table import read_table

# Where a line may be of several kinds, the one told first here: "total savings" is no total.
CHARGES = ("deposit", "bag", "charge", "voucher", "loyalty", "rounding")


@cache
def words(kind: str) -> frozenset[str]:
    """Return the words of a kind, without case.

    >>> "zwischensumme" in words("subtotal")
    True
    """
    return frozenset(row["word"].casefold() for row in _table() if row["kind"] == kind)


@cache
def at_start(*kinds: str) -> re.Pattern[str]:
    """Return the pattern of a word of these kinds, to match where a line begins."""
    return re.compile(choice(word for kind in kinds for word in words(kind)), re.IGNORECASE)


@cache
def anywhere(*kinds: str) -> re.Pattern[str]:
    """Return the pattern of a whole word of these kinds, to search for."""
    return re.compile(rf"(?<!\w){at_start(*kinds).pattern}", re.IGNORECASE)


@cache
def _table() -> list[dict[str, str]]:
    return read_table("words.csv", __package__)
