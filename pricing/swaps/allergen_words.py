"""What the allergens a kitchen entered stand for, and what a swap does to those of a dish."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import TypeVar

from pricing.names import name_key
from pricing.reference.table import read_table

LISTS = ("eu", "us")  # Regulation (EU) No 1169/2011, Annex II (UK law keeps it); 21 U.S.C. 321(qq)

K = TypeVar("K", bound=Hashable)
Entered = tuple[str, ...] | None  # names as entered; None = unknown, () = stated as none


@dataclass(frozen=True, kw_only=True)
class Word:
    """One row of reference/allergens.csv: a word under which a kitchen enters an allergen."""

    spellings: frozenset[str]  # as pricing.names.name_key gives them
    names: Mapping[str, frozenset[str]]  # list -> the standard names it stands for, mostly one
    whole: frozenset[str]  # lists of whose allergen it means all, not one kind


@dataclass(frozen=True, kw_only=True)
class AllergenChange:
    """What a swap does to the allergens of a dish, in the names entered, by name."""

    added: Entered  # None = unknown
    removed: Entered


def standard_names(words: Iterable[str], regime: str) -> tuple[str, ...]:
    """Return the standard names of a list (`eu` or `us`) that the entered words stand for, sorted.

    A word the table does not know stands for none: ask `is_known`, and show it as it was entered.
    Raises ValueError for another list.

    >>> standard_names(["Egg", "barley", "prawns"], "eu")
    ('cereals containing gluten', 'crustaceans', 'eggs')
    >>> standard_names(["Egg", "barley", "prawns"], "us")
    ('crustacean shellfish', 'egg')
    """
    if regime not in LISTS:
        raise ValueError(f"Found the allergen list '{regime}'; expected one of {', '.join(LISTS)}.")
    found = (_by_spelling().get(name_key(word)) for word in words)
    return tuple(sorted({name for each in found if each for name in each.names[regime]}))


def is_known(word: str) -> bool:
    """Return whether the table knows an entered word, in any of its spellings.

    >>> is_known("Sulfites"), is_known("strawberry")
    (True, False)
    """
    return name_key(word) in _by_spelling()


def allergen_change(
    before: Mapping[K, Entered], after: Mapping[K, Entered], replaced: K, substitute: K | None
) -> AllergenChange:
    """Return the allergens that `substitute` adds to a dish and leaving `replaced` removes from it.

    `before`, `after`: every ingredient of the dish, those of sub-recipes included -> its entered
    allergens. `substitute` is None when nothing takes the place.

    *Added* are those of the substitute that no ingredient had before; None when its own are
    unknown. Every name that was not there is told: `almonds` beside `walnuts`, and also `wheat`
    beside `gluten`, which may have been of rye. Only another spelling of a name that was there
    (`eggs` beside `egg`; one row of the table) is not.

    *Removed* are those of the replaced ingredient that no ingredient has after; None when its own
    or those of any ingredient after are unknown. Here doubt counts the other way. A name is not
    told while another spelling of it still stands, nor while a word stands that may mean the same:
    one of the two means the whole of an allergen, in either list, and the other that allergen or a
    kind of it (`wheat` and `gluten`, `walnuts` and `nuts`, `spelt` and `wheat`). Two kinds do not
    cover each other: with `wheat` left in the dish, `barley` is told.

    A word the table does not know is compared by its name alone. Names come back as entered.
    Raises KeyError for an ingredient that its mapping does not have.

    >>> dish = {"flour": ("wheat",), "egg": ("egg",), "malt": ("barley",)}
    >>> dish_after = {"flour": ("wheat",), "egg": ("egg",), "broth": ("celery",)}
    >>> allergen_change(dish, dish_after, replaced="malt", substitute="broth")
    AllergenChange(added=('celery',), removed=('barley',))
    """
    added: Entered = ()
    if substitute is not None:
        put, there = after[substitute], _keys(before.values())
        added = None if put is None else _once(w for w in put if there.isdisjoint(_spellings(w)))
    removed, taken = None, before[replaced]
    if taken is not None and not any(names is None for names in after.values()):
        left = _keys(after.values())
        removed = _once(word for word in taken if not any(_may_be(word, key) for key in left))
    return AllergenChange(added=added, removed=removed)


def _may_be(word: str, other: str) -> bool:
    """Return whether two entered words can mean one and the same allergen."""
    if name_key(other) in _spellings(word):
        return True
    one, two = (_by_spelling().get(name_key(each)) for each in (word, other))
    if one is None or two is None:
        return False
    return any(
        each in one.whole | two.whole and one.names[each] & two.names[each] for each in LISTS
    )


def _spellings(word: str) -> frozenset[str]:
    key = name_key(word)
    found = _by_spelling().get(key)
    return frozenset({key}) if found is None else found.spellings


def _keys(entered: Iterable[Entered]) -> set[str]:
    return {name_key(word) for names in entered if names for word in names}


def _once(words: Iterable[str]) -> tuple[str, ...]:
    found: dict[str, str] = {}
    for word in words:
        found.setdefault(name_key(word), word)
    return tuple(found[key] for key in sorted(found))


@cache
def all_words() -> tuple[Word, ...]:
    """Return every word of the table, read once and not before it is needed."""
    return tuple(
        Word(
            spellings=frozenset(map(name_key, row["words"].split(";"))),
            names={each: frozenset(filter(None, row[each].split(";"))) for each in LISTS},
            whole=frozenset(filter(None, row["whole"].split(";"))),
        )
        for row in read_table("allergens.csv")
    )


@cache
def _by_spelling() -> Mapping[str, Word]:
    return {spelling: word for word in all_words() for spelling in word.spellings}
