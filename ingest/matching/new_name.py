"""Proposes what a new ingredient may be called, by the words of a description."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache

from ingest.matching.food_names import first_name, food_words, is_a_name
from ingest.matching.name_score import kind_of
from ingest.matching.words import (
    LONGEST_WORDS,
    abbreviations,
    name_words,
    of_kind,
    other_foods_in,
    plain,
    says_nothing,
    singular,
)
from pricing.names import name_key
from pricing.reference.table import read_table

_WORD = re.compile(r"[^\W\d_]+(?:[/'’][^\W\d_]+)*")
_DIGIT = re.compile(r"[0-9]")
_JOINING = frozenset(
    {"of", "and", "with", "in", "und", "mit", "et", "de", "du", "des", "d", "y", "e", "con", "di"}
    | {"del", "della", "da", "do", "en", "met", "och", "med", "i"}
)
_AND = re.compile(r"\s+(?:and|&|und|et|y|e|en|och|i)\s+", re.IGNORECASE)
_SEASONINGS = frozenset(  # in nine languages
    {"salt", "pepper", "salz", "pfeffer", "sel", "poivre", "sal", "pimienta", "sale", "pepe"}
    | {"zout", "peper", "pimenta", "sol", "pieprz", "peppar"}
)
_FOODS = ("food", "made", "cut")


def proposed_name(words: str) -> str:
    """Return a description's words as a name: no pack, price, code, brand, size or freshness.

    Short words are written in full. A word that no table knows is taken for a brand where it stands
    before the food; all words stay where no food is known. It waits for someone to say so.

    >>> proposed_name("ZORVIK BTR 454G"), proposed_name("Chicken thighs, boneless")
    ('butter', 'chicken thighs')
    """
    words = words[:LONGEST_WORDS]
    first, *others = words.split(",")
    whole, named = _words_of(first, frozenset()), _words_of(first)
    if is_a_name(" ".join(whole)):
        named = whole
    elif not any(map(_is_food, named)) and not other_foods_in([_key(word) for word in named]):
        named, others = _words_of(words), []
    behind = [word for each in others for word in _words_of(each)]
    named = [*(word for word in behind if _tells_apart(word)), *named]  # "tomatoes, canned"
    name = " ".join(_without_brand(named)) or " ".join(name_key(words).split())
    return first_name(name) or name


def is_no_food(words: str) -> bool:
    """Tell whether a description names a good that is no food: paper towels, a crate.

    >>> is_no_food("PAPER TOWELS 6PK"), is_no_food("Küchenrolle 4er"), is_no_food("towel rail soup")
    (True, True, False)
    """
    named = _words_of(words)
    goods = of_kind("goods")
    return any(_key(word) in goods for word in named) and not any(map(_is_edible, named))


def two_foods(words: str) -> tuple[str, ...]:
    """Return the two foods that words name, each by itself; none where they name one, or three.

    >>> two_foods("salt and freshly ground pepper"), two_foods("rice")
    (('salt', 'freshly ground pepper'), ())
    """
    parts = tuple(part.strip() for part in _AND.split(words))
    lasts = [(name_words(part) or ("",))[-1] for part in parts]
    seasoned = any(last in _SEASONINGS for last in lasts)  # macaroni and cheese are one dish
    both = len(parts) == 2 and seasoned and all(map(_ends_in_food, parts))
    return parts if both and not is_a_name(words) else ()


def _ends_in_food(words: str) -> bool:
    named = name_words(words)
    return bool(named) and (named[-1] in _SEASONINGS or _is_food(named[-1]) or is_a_name(words))


def _words_of(text: str, dropped: frozenset[str] | None = None) -> list[str]:
    """Return the words that may be part of a name, in full and in small letters.

    `dropped`: those of size, freshness and the like, unless stated.
    """
    dropped = of_kind("same") if dropped is None else dropped
    parts = [part for part in name_key(text).split() if not _DIGIT.search(part)]
    found: list[str] = []
    for word in _WORD.findall(" ".join(parts)):
        key = plain(word)
        in_full = abbreviations().get(key)
        if key in dropped:
            continue
        if in_full and not _is_food(word):
            found += in_full[0].split()
        elif key in _JOINING or key not in says_nothing():
            found.append(word)
    while found and plain(found[0]) in _JOINING:
        del found[0]
    while found and plain(found[-1]) in _JOINING:
        del found[-1]
    return found


def _without_brand(named: Sequence[str]) -> list[str]:
    """Leave out what no table knows before the food."""
    foods = [place for place, word in enumerate(named) if _is_food(word)]
    start = foods[0] if foods else 0
    return [word for place, word in enumerate(named) if place >= start or _is_known(word)]


def _tells_apart(word: str) -> bool:
    return kind_of(_key(word), frozenset()) in ("state", "light")


def _is_edible(word: str) -> bool:
    return _is_food(word) and _key(word) not in of_kind("goods")


def _is_food(word: str) -> bool:
    return kind_of(_key(word), food_words()) in _FOODS


def _is_known(word: str) -> bool:
    key = _key(word)
    return (
        kind_of(key, food_words()) != "unknown" or key in _vocabulary() or plain(word) in _JOINING
    )


@cache
def _vocabulary() -> frozenset[str]:
    """Return words of the reference foods, and of kinds that name one: wild, arborio."""
    rows = read_table("foods.csv")
    told = [cell for row in rows for cell in (row["food"], row["description"])]
    return of_kind("variety") | frozenset(word for each in told for word in name_words(each))


def _key(word: str) -> str:
    return singular(plain(word))
