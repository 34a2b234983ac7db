"""What the allergen words of a kitchen stand for, and what a change does to those of a dish."""

from __future__ import annotations

from collections.abc import Collection, Hashable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import TypeVar

from pricing.names import name_key, nearest
from pricing.reference.table import read_table

LISTS = ("eu", "us")  # Regulation (EU) No 1169/2011, Annex II (UK law keeps it); 21 U.S.C. 321(qq)

K = TypeVar("K", bound=Hashable)
Entered = tuple[str, ...] | None  # names as entered; None = unknown, () = stated as none
Told = tuple[str, ...] | str  # names as entered, by name; or UNKNOWN
UNKNOWN = "unknown"


@dataclass(frozen=True, kw_only=True)
class Word:
    """One row of reference/allergens.csv: a word under which a kitchen enters an allergen."""

    spellings: frozenset[str]  # as `_key` gives them
    names: Mapping[str, frozenset[str]]  # list -> the standard names it stands for, mostly one
    whole: frozenset[str]  # lists of whose allergen it means all, not one kind
    kind: str  # where words of several rows mean one kind, else ""


@dataclass(frozen=True, kw_only=True)
class AllergenChange:
    """What a change does to the allergens of a dish."""

    added: Told
    removed: Told


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
    found = map(_found, words)
    return tuple(sorted({name for each in found if each for name in each.names[regime]}))


def is_known(word: str) -> bool:
    """Return whether the table knows an entered word, in any of its spellings.

    >>> is_known("Sulfites"), is_known("strawberry")
    (True, False)
    """
    return _found(word) is not None


def nearest_words(word: str) -> list[str]:
    """Return up to three words of the table that look like one it does not know, nearest first."""
    return nearest(word, _by_spelling())


def once(words: Iterable[str]) -> tuple[str, ...]:
    """Return entered words by name, each once: another spelling of one is the same word.

    >>> once(["Eggs", "milk", "egg"])
    ('Eggs', 'milk')
    """
    found: dict[frozenset[str], str] = {}
    for word in words:
        found.setdefault(_spellings(word), word)
    return tuple(sorted(found.values(), key=_key))


def allergen_change(
    before: Mapping[K, Entered],
    after: Mapping[K, Entered],
    gone: Collection[K],
    put: Collection[K],
) -> AllergenChange:
    """Return the allergens that `put` adds to a dish and leaving `gone` removes from it.

    `before`, `after`: every ingredient of the dish, those of sub-recipes included -> its entered
    allergens. `gone` are of those before, `put` of those after.

    *Added* are those of `put` that no ingredient had before; unknown when those of one of them
    are. Every name that was not there is told: `almonds` beside `walnuts`, and also `wheat` beside
    `gluten`, which may have been of rye. Only another spelling of a name that was there (`eggs`
    beside `egg`; one row of the table) is not. A word the table does not know is told by its name.

    *Removed* are those of `gone` that no ingredient has after; unknown when those of one of them or
    of any ingredient after are, or hold a word the table does not know, which may mean anything.
    Here doubt counts the other way. A name is not told while another spelling of it still stands,
    nor while a word stands that may mean the same: of one kind with it, or one of the two means
    the whole of an allergen, in either list, and the other that allergen or a kind of it (`wheat`
    and `gluten`, `butter` and `goat's cheese`, `walnuts` and `nuts`). Two kinds do not cover each
    other: with `wheat` left in the dish, `barley` is told.

    Names come back as entered. Raises KeyError for an ingredient that its mapping does not have.

    >>> dish = {"flour": ("wheat",), "egg": ("egg",), "malt": ("barley",)}
    >>> dish_after = {"flour": ("wheat",), "egg": ("egg",), "broth": ("celery",)}
    >>> allergen_change(dish, dish_after, gone=["malt"], put=["broth"])
    AllergenChange(added=('celery',), removed=('barley',))
    """
    there, left = _keys(before.values()), _keys(after.values())
    comes, goes = ([of[each] for each in some] for of, some in ((after, put), (before, gone)))
    added: Told = UNKNOWN
    if all(names is not None for names in comes):
        added = once(w for names in comes for w in names or () if there.isdisjoint(_spellings(w)))
    removed: Told = UNKNOWN
    if not goes or all(map(is_understood, [*goes, *after.values()])):
        removed = once(
            word
            for names in goes
            for word in names or ()
            if not any(_may_be(word, key) for key in left)
        )
    return AllergenChange(added=added, removed=removed)


def is_understood(entered: Entered) -> bool:
    """Return whether a record is there and the table knows every word of it."""
    return entered is not None and all(map(is_known, entered))


def _may_be(word: str, other: str) -> bool:
    """Return whether two entered words can mean one and the same allergen."""
    one, two = _found(word), _found(other)
    if one is None or two is None:
        return _key(word) == _key(other)
    if one is two or (one.kind and one.kind == two.kind):
        return True
    return any(
        each in one.whole | two.whole and one.names[each] & two.names[each] for each in LISTS
    )


def _spellings(word: str) -> frozenset[str]:
    found = _found(word)
    return frozenset({_key(word)}) if found is None else found.spellings


def _keys(entered: Iterable[Entered]) -> set[str]:
    return {_key(word) for names in entered if names for word in names}


def _key(word: str) -> str:
    return name_key(word).replace("\u2019", "'")  # the curly apostrophe of goat\u2019s cheese


def _found(word: str) -> Word | None:
    return _by_spelling().get(_key(word))


@cache
def all_words() -> tuple[Word, ...]:
    """Return every word of the table, read once and not before it is needed."""
    return tuple(
        Word(
            spellings=frozenset(map(_key, row["words"].split(";"))),
            names={each: frozenset(filter(None, row[each].split(";"))) for each in LISTS},
            whole=frozenset(filter(None, row["whole"].split(";"))),
            kind=row["kind"],
        )
        for row in read_table("allergens.csv")
    )


@cache
def _by_spelling() -> Mapping[str, Word]:
    return {spelling: word for word in all_words() for spelling in word.spellings}
