"""The words by which a till's text is read: of words.csv."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Mapping
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
def months() -> Mapping[str, int]:
    """Return the name of a month, or its first three or four letters -> its number.

    >>> months()["märz"], months()["dec"], "jui" in months()
    (3, 12, False)
    """
    short: defaultdict[str, set[int]] = defaultdict(set)
    full = {}
    for row in _table():
        if row["kind"] == "month":
            full[row["word"]] = number = int(row["means"])
            for letters in (3, 4):
                short[row["word"][:letters]].add(number)
    return {**{word: min(of) for word, of in short.items() if len(of) == 1}, **full}


@cache
def _table() -> list[dict[str, str]]:
    return read_table("words.csv", __package__)
