"""The words by which recipe lines are read: of the table of units, and of words.csv."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from fractions import Fraction
from functools import cache

from pricing.measures.units import SYSTEMS, all_units
from pricing.reference.table import read_table


@cache
def words(kind: str) -> Mapping[str, str]:
    """Return word -> what it means, of one kind of words.csv.

    >>> words("number")["half a"], words("container")["tins"]
    ('1/2', 'tin')
    """
    rows = read_table("words.csv", __package__)
    return {row["word"]: row["means"] for row in rows if row["kind"] == kind}


def choice(spellings: Iterable[str]) -> str:
    """Return a pattern of whole words, the longest first; any space may stand between two.

    >>> choice(["fl oz", "oz"])
    '(?:fl\\\\s+oz|oz)(?!\\\\w)'
    """
    longest = sorted(spellings, key=lambda each: (-len(each), each))
    return "(?:" + "|".join(re.escape(each).replace(r"\ ", r"\s+") for each in longest) + r")(?!\w)"


@cache
def any_of(*kinds: str) -> re.Pattern[str]:
    """Return the pattern of a word of these kinds of words.csv."""
    return re.compile(choice(word for kind in kinds for word in words(kind)), re.IGNORECASE)


@cache
def table_units() -> Mapping[str, str]:
    """Return spelling -> short name, of the weights, volumes and counts of the table of units."""
    names = {}
    for unit in all_units():
        for spelling in (unit.name, *unit.aliases):
            names[spelling] = unit.name
    return names


@cache
def dimension(unit: str) -> str | None:
    """Return "g", "ml" or "each" for a unit of the table, None for any other."""
    bare = unit.split(" ", 1)[1] if unit.split(" ")[0] in SYSTEMS else unit
    return next((each.dimension for each in all_units() if each.name == bare), None)


def factor(unit: str, measures: str) -> Fraction | None:
    """Return the g, ml or each of one unit of the table in these measures; None if it has none."""
    sizes = {each.system: each.factor for each in all_units() if each.name == unit}
    return sizes.get("any") or sizes.get(measures)
