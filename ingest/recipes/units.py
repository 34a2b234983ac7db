"""Reads the unit that stands behind a number in a recipe line."""

from __future__ import annotations

import re
from functools import cache

from ingest.recipes.words import choice, table_units, words
from pricing.measures.units import SYSTEMS, all_units

# Where only the case tells: a spoon in US recipes, written T or t; no source but practice.
_BY_CASE = re.compile(r"(?:(?P<tbsp>Tbs?|T)|(?P<tsp>t)|(?P<cup>[cC]))\b\.?(?!['’-])")
_SYSTEM = re.compile(
    rf"(?:({'|'.join(each for each in SYSTEMS if each != 'us')}|U\.?S\.?)\s+)?", re.I
)


def read_unit_at(text: str, at: int, measures: str) -> tuple[str, int] | None:
    """Return the short name of the table's unit that begins at `at`, and where it ends.

    A prefix is kept where it says other measures than the kitchen's ("uk pint" in US measures).

    >>> read_unit_at("2 tablespoons oil", 2, "us"), read_unit_at("1 UK pint", 2, "us")
    (('tbsp', 13), ('uk pint', 9))
    """
    prefix = _SYSTEM.match(text, at)
    start = prefix.end() if prefix else at
    system = ((prefix and prefix[1]) or "").replace(".", "").lower()
    found = _table_pattern().match(text, start)
    if found is None:
        return _by_case(text, at)
    name = _spellings()[_key(found[0])]
    sizeless = name in _sizeless() or system in ("", measures)
    return (name if sizeless else f"{system} {name}"), _after_point(text, found.end())


def read_kitchen_unit_at(text: str, at: int, *kinds: str) -> tuple[str, int] | None:
    """Return a clove, a can or the like that begins at `at`, by the kinds of words.csv.

    >>> read_kitchen_unit_at("2 tins", 2, "container")
    ('tin', 6)
    """
    for kind in kinds:
        found = _kitchen_pattern(kind).match(text, at)
        if found:
            return words(kind)[found[0].lower()], _after_point(text, found.end())
    return None


def _by_case(text: str, at: int) -> tuple[str, int] | None:
    found = _BY_CASE.match(text, at)
    if found is None or found.lastgroup is None:
        return None
    return found.lastgroup, found.end()


def _after_point(text: str, at: int) -> int:
    return at + 1 if text[at : at + 1] == "." else at


@cache
def _table_pattern() -> re.Pattern[str]:
    # also 12-fl.-oz. and 12-fluid-ounce
    spelled = choice([*table_units(), *words("spelling")]).replace(r"\s+", r"[\s-]+")
    return re.compile(spelled + r"(?!['’])", re.IGNORECASE)


@cache
def _spellings() -> dict[str, str]:
    both = {**table_units(), **words("spelling")}
    return {_key(spelling): name for spelling, name in both.items()}


def _key(spelling: str) -> str:
    return " ".join(re.sub(r"[.\s-]+", " ", spelling).lower().split())


@cache
def _kitchen_pattern(kind: str) -> re.Pattern[str]:
    return re.compile(choice(words(kind)) + r"(?!['’-])", re.IGNORECASE)


@cache
def _sizeless() -> frozenset[str]:
    """Return the units that are the same size everywhere."""
    return frozenset(unit.name for unit in all_units() if unit.system == "any")
