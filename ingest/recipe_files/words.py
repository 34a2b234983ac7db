"""The words by which whole recipes are read: of words.csv."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from ingest.recipes.words import choice
from pricing.reference.table import read_table


@cache
def words(kind: str) -> Mapping[str, str]:
    """Return word, without case -> what it means, of one kind of words.csv.

    >>> words("number")["vier"], "zubereitung" in words("method")
    ('4', True)
    """
    rows = read_table("words.csv", __package__)
    return {row["word"].casefold(): row["means"] for row in rows if row["kind"] == kind}


@cache
def any_of(*kinds: str) -> re.Pattern[str]:
    """Return the pattern of a word of these kinds, also directly behind a number ("20min")."""
    return re.compile(_spelled(kinds), re.IGNORECASE)


@cache
def anywhere(*kinds: str) -> re.Pattern[str]:
    """Return the pattern of a whole word of these kinds, to search for."""
    return re.compile(rf"(?<!\w){_spelled(kinds)}", re.IGNORECASE)


def _spelled(kinds: tuple[str, ...]) -> str:
    return choice(word for kind in kinds for word in words(kind))
