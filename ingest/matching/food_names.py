"""What a food is called in other languages, for ingredients that are named in one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache

from ingest.matching.words import name_words
from pricing.names import name_key
from pricing.reference.table import read_table


def names_elsewhere(names: Iterable[str]) -> Mapping[str, bool]:
    """Return what food_names.csv calls a food that goes by one of these names, without them.

    The value tells whether it is this kind of the food for sure: milk may be another than whole.

    >>> names_elsewhere(["onion"])["Zwiebeln"], names_elsewhere(["whole milk"])["milk"]
    (True, False)
    """
    asked = {name_words(name) for name in names}
    rows = sorted({place for words in asked for place in _places().get(words, ())})
    return {
        name: sure
        for place in rows
        for name, sure in _rows()[place].items()
        if name_words(name) not in asked
    }


def first_name(name: str) -> str | None:
    """Return the usual name of a food that its own word holds, in small letters.

    >>> first_name("Markenbutter"), first_name("heavy cream"), first_name("zorvik")
    ('butter', None, None)
    """
    asked = name_words(name)
    for place in _places().get(asked, ()):
        for cell in read_table("food_names.csv", __package__)[place].values():
            first, *others = cell.split(";")
            held = len(asked) == 1 and asked[0].endswith(name_words(first) or ("?",))
            if held and any(name_words(each) == asked for each in others):
                return name_key(first)
    return None


def is_a_name(name: str) -> bool:
    """Tell whether a food goes by this name for sure in one of the languages."""
    return name_words(name) in _places()


@cache
def food_words() -> frozenset[str]:
    """Return the single words that name a food in one of the languages, folded, singular."""
    return frozenset(words[0] for words in _places() if len(words) == 1)


@cache
def _rows() -> tuple[Mapping[str, bool], ...]:
    """Return the names of each food, of all languages, and whether they are sure."""
    rows = read_table("food_names.csv", __package__)
    return tuple(
        {
            name.rstrip("?"): not name.endswith("?")
            for cell in row.values()
            for name in cell.split(";")
            if name
        }
        for row in rows
    )


@cache
def _places() -> Mapping[tuple[str, ...], tuple[int, ...]]:
    """Return the words of a name -> the rows that have it for sure."""
    found: dict[tuple[str, ...], tuple[int, ...]] = {}
    for place, names in enumerate(_rows()):
        for words in dict.fromkeys(name_words(name) for name, sure in names.items() if sure):
            found[words] = (*found.get(words, ()), place)
    return found
