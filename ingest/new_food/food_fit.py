"""Which reference food a new ingredient is by its name: one that is sure, or none."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache

from ingest.matching.words import meanings_of, name_words, singular
from pricing.measures.foods import FoodSuggestion, another_form, suggest_measures
from pricing.reference.table import read_table

# How a food is kept or made ready makes another one of it, with another yield and weight.
_KEPT = frozenset(
    {"canned", "tinned", "frozen", "dried", "smoked", "pickled", "cooked", "roasted", "powdered"}
)
_LOOKED_AT = 12  # foods with names near enough to be held against the name asked for


def fitting_food(name: str, words: Iterable[str] = ()) -> FoodSuggestion | None:
    """Return the reference food that goes by this name, None where none does for sure.

    Its words must be those of the name; what else the name says must be known to leave it the same
    food. `words` are descriptions it is sold under: what they say of canned, frozen or dried counts
    as part of the name.

    >>> fitting_food("Red onions").ndb_no, fitting_food("onion soup"), fitting_food("onion powder")
    ('11282', None, None)
    """
    asked = frozenset(name_words(name))
    kept = _KEPT & {singular(each) for text in words for word in meanings_of(text) for each in word}
    if kept - asked:
        return _fitting(asked | kept)
    return None if another_form(name) else _fitting(asked)


def _fitting(asked: frozenset[str]) -> FoodSuggestion | None:
    best: tuple[int, int, FoodSuggestion] | None = None
    offered = suggest_measures(" ".join(sorted(asked)), most=_LOOKED_AT)
    for place, food in enumerate(offered):
        for named in _names()[food.ndb_no]:
            beside = asked - named
            if named <= asked and beside <= _may_stand_beside(food.ndb_no):
                fit = (len(beside), place, food)
                if best is None or fit[:2] < best[:2]:
                    best = fit
    return best[2] if best else None


def measure_of_kind(food: FoodSuggestion, name: str) -> str | None:
    """Return the measure that one piece of this kind of a food is, where the kind has its own."""
    asked = set(name_words(name))
    for row in _kinds():
        own = row["measure"] and row["ndb_no"] == food.ndb_no
        if own and set(name_words(row["words"])) <= asked:
            return row["measure"]
    return None


def _may_stand_beside(ndb_no: str) -> frozenset[str]:
    return _beside()["any"] | _beside().get(ndb_no, frozenset())


@cache
def _kinds() -> list[dict[str, str]]:
    return read_table("food_kinds.csv", __package__)


@cache
def _beside() -> Mapping[str, frozenset[str]]:
    """Return NDB number, or "any" -> words that leave the food the same."""
    found: dict[str, frozenset[str]] = {}
    for row in _kinds():
        if not row["measure"]:
            known = found.get(row["ndb_no"], frozenset())
            found[row["ndb_no"]] = known.union(name_words(row["words"]))
    return found


@cache
def _names() -> Mapping[str, tuple[frozenset[str], ...]]:
    """Return NDB number -> the words of each of its names."""
    return {
        row["ndb_no"]: tuple(frozenset(name_words(name)) for name in row["food"].split(";"))
        for row in read_table("foods.csv")
    }
