"""How names of ingredients, dishes, suppliers, products and measures are compared and found."""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TypeVar

from pricing.errors import UnknownName

Thing = TypeVar("Thing")


def name_key(name: str) -> str:
    """Return the form under which names compare: NFC, spaces and case folded.

    >>> name_key("  Crème   FRAÎCHE ") == name_key("crème fraîche")
    True
    """
    folded = unicodedata.normalize("NFC", " ".join(name.split())).casefold()
    return unicodedata.normalize("NFC", folded)


WAITING = "waiting:"  # what the name of a recipe line begins with that waits for a decision
NOT_AN_INGREDIENT = "not an ingredient"  # the decision on what is no food


def waiting_words(name: str) -> str | None:
    """Return the words of a recipe line that waits for a decision, None for any other name.

    >>> waiting_words("waiting: smoked salt"), waiting_words("salt")
    ('smoked salt', None)
    """
    before, mark, words = " ".join(name.split()).partition(":")
    return words.strip() if mark and name_key(before + mark) == WAITING else None


_FORMULA = re.compile("'*[=+\\-@\uff1d\uff0b\uff0d\uff20]")  # wide signs, too


def guarded(text: str) -> str:
    """Return text from elsewhere as a cell that no spreadsheet takes for a formula.

    A ' goes before what begins like one (OWASP, CSV Injection); `unguarded` takes it away again.

    >>> guarded("=1+1"), guarded("'=1+1"), guarded("leek = porree")
    ("'=1+1", "''=1+1", 'leek = porree')
    """
    return f"'{text}" if _FORMULA.match(text) else text


def unguarded(cell: str) -> str:
    """Return the text of a cell that `guarded` wrote.

    >>> unguarded("'=1+1"), unguarded("'n beetje"), unguarded("=1+1")
    ('=1+1', "'n beetje", '=1+1')
    """
    return cell[1:] if cell.startswith("'") and _FORMULA.match(cell) else cell


def nearest(name: str, known: Iterable[str], most: int = 3) -> list[str]:
    """Return up to `most` known names that look like `name`, or share its words, nearest first.

    >>> nearest("leak", ["beef", "leek", "leaf tea"]), nearest("cheese", ["goat's cheese", "chair"])
    (['leek', 'leaf tea'], ["goat's cheese"])
    """
    by_key = {name_key(each): each for each in known}
    asked = name_key(name)
    near = {
        key: difflib.SequenceMatcher(None, key, asked).ratio()
        for key in difflib.get_close_matches(asked, list(by_key), n=most, cutoff=_NEAR)
    }
    slip = any(score >= _SLIP for score in near.values())  # of the pen: that name is meant
    for key, score in ({} if slip else _by_words(asked, by_key)).items():
        near[key] = max(score, near.get(key, 0.0))
    return [by_key[key] for key in sorted(near, key=lambda key: (-near[key], key))[:most]]


_NEAR = 0.6  # of 1: how alike the letters of two names are at least
_SLIP = 0.9  # and of a name with a letter or two amiss
_NEAR_WORD = 0.75  # and those of two words
_LEAST_LETTERS = 4  # a shorter word is near only itself: rye is no rice
_SMALL = frozenset({"a", "and", "for", "in", "of", "or", "s", "the", "with"})


def _by_words(asked: str, known: Iterable[str]) -> dict[str, float]:
    """Return known names that have all words of the one asked for, or all whose words it has.

    From 0.6 on: the fewer words one of them has more, the nearer.
    """
    wanted = _words(asked)
    if not wanted:
        return {}
    words = {key: _words(key) for key in known}
    held = sorted({word for each in words.values() for word in each})
    like = {word: _like(word, held) for word in wanted}
    found = {}
    for key, there in words.items():
        met = sum(bool(like[word] & there) for word in wanted)
        meeting = len(there & set().union(*like.values()))
        if there and (met == len(wanted) or meeting == len(there)):
            exact = len(wanted & there) / len(wanted | there)
            shared = min(len(wanted), len(there)) / max(len(wanted), len(there))
            found[key] = _NEAR + 0.2 * shared + 0.15 * exact
    return found


def _like(word: str, held: Sequence[str]) -> set[str]:
    if len(word) < _LEAST_LETTERS:
        return {word}
    return {word, *difflib.get_close_matches(word, held, n=5, cutoff=_NEAR_WORD)}


def _words(key: str) -> set[str]:
    """Return the words of a folded name that count, in the singular."""
    found = set(re.findall(r"[^\W_]+", key)) - _SMALL
    return {word[:-1] if word.endswith("s") and len(word) > 3 else word for word in found}


def find(
    name: str,
    known: Mapping[str, Thing],
    *,
    kind: str,
    remedy: str = "",
    compared: Callable[[str], str] = name_key,
) -> Thing:
    """Return what goes by `name` among the known; two names are one when they compare alike.

    Raises UnknownName with the nearest names; `kind` and `remedy` are words of its sentence.

    >>> find("Leek ", {"leek": 3, "barley": 4}, kind="ingredient")
    3
    """
    key = compared(name)
    for written, thing in known.items():
        if compared(written) == key:
            return thing
    raise UnknownName(kind, name, nearest(name, known), remedy)
