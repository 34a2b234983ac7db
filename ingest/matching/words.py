"""The forms of a description: the one decisions compare by, and the words that tell what it is."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence
from functools import cache, lru_cache

from ingest.matching.pack_patterns import pack_words
from pricing.names import name_key
from pricing.reference.table import read_table

LONGEST_WORDS = 500  # characters looked at for a proposal
_WORD = re.compile(r"[^\W\d_]+(?:[/'’.][^\W\d_]+)*")
_LETTERS = re.compile(r"[^\W\d_]+")
_DIGIT = re.compile(r"[0-9]")  # a word with one is an item number, a percentage, a year, a size
_ELISION = re.compile(r"\b([dl])'(?=\w)")


def words_key(words: str) -> str:
    """Return the form by which decisions compare, exactly: NFC, spaces and case folded.

    >>> words_key("Zorvik  BTR 454G") == words_key("zorvik btr 454g")
    True
    """
    return name_key(words)


def content_words(words: str) -> str:
    """Return a description without pack, percentages, numbers and noise, short words in full.

    For proposals only. A short word with several meanings stands for the first of them.

    >>> content_words("ZORVIK BTR UNSLTD 454G 2PK")
    'zorvik butter unsalted'
    """
    return " ".join(meanings[0] for meanings in meanings_of(words))


def meanings_of(words: str) -> list[tuple[str, ...]]:
    """Return, for each word of a description that counts, what it may mean, folded.

    A word's own form comes last of its meanings when it is one that tills write short.
    """
    text = words[:LONGEST_WORDS]
    text = text.lower() if text.isascii() else plain(name_key(text))
    text = " ".join(word for word in text.split() if not _DIGIT.search(word))
    found: list[tuple[str, ...]] = []
    taken_back = False
    for word in _WORD.findall(_apart(text)):
        if taken_back:  # "sin sal": the word after it is what it does not have
            taken_back = False
            continue
        taken_back = word in of_kind("without")
        found += _meanings(word)
    return found


def _apart(text: str) -> str:
    """Return folded text with d' and l' as words of their own; `plain` made ’ a '."""
    return _ELISION.sub(r"\1 ", text) if "'" in text else text


@lru_cache(maxsize=100_000)
def _meanings(word: str) -> tuple[tuple[str, ...], ...]:
    longer = abbreviations().get(word)
    if longer is None:
        parts = _LETTERS.findall(word)
        return tuple((part,) for part in parts if part not in says_nothing())
    if len(longer) == 1 and " " in longer[0]:
        return tuple((part,) for part in longer[0].split())
    return ((*(each for each in longer if " " not in each), word),)


@cache
def says_nothing() -> frozenset[str]:
    """Return the words that do not tell what a thing is: noise, units and words of packs."""
    kinds = ("unit", "piece", "pack", "suffix", "dozen", "each", "about")
    return frozenset({*of_kind("noise"), *map(plain, pack_words(*kinds))} - of_kind("links"))


def name_words(name: str) -> tuple[str, ...]:
    """Return the words of an ingredient's name or alias, folded: no accents, singular.

    >>> name_words("Chopped Tomatoes"), name_words("huile d'olive")
    (('chopped', 'tomato'), ('huile', 'd', 'olive'))
    """
    text = _apart(plain(name_key(name[:LONGEST_WORDS])))
    return tuple(singular(word) for word in _LETTERS.findall(text))


@lru_cache(maxsize=100_000)
def number_key(words: str) -> str:
    """Return the form by which one and many compare: every word as in the singular, all else kept.

    A word whose plural is another good stays as it is: pepper, peppers.

    >>> number_key("Large EGGS") == number_key("large egg"), number_key("peppers")
    (True, 'peppers')
    """
    found = [(word, singular(word)) for word in name_key(words).split()]
    return " ".join(word if one in of_kind("plural") else one for word, one in found)


@lru_cache(maxsize=100_000)
def plain(word: str) -> str:
    """Return folded letters without their accents: crème is creme, ł is l, œ is oe."""
    for letter, other in (("ł", "l"), ("ø", "o"), ("œ", "oe"), ("æ", "ae"), ("’", "'")):
        word = word.replace(letter, other)
    if word.isascii():
        return word
    spread = unicodedata.normalize("NFD", word)
    return unicodedata.normalize("NFC", "".join(c for c in spread if not unicodedata.combining(c)))


@lru_cache(maxsize=100_000)
def singular(word: str) -> str:
    """Return a word as its singular would be, near enough to compare: tomatoes, tomato."""
    if word.endswith(("olives", "chives", "cloves", "endives")):
        return word[:-1]
    for ending, one in (("ies", "y"), ("oes", "o"), ("ches", "ch"), ("shes", "sh"), ("ves", "f")):
        if word.endswith(ending) and len(word) > len(ending) + 1:
            return word[: -len(ending)] + one
    if word.endswith("s") and not word.endswith(("ss", "us", "is")) and len(word) > 3:
        return word[:-1]
    return word


@cache
def abbreviations() -> Mapping[str, tuple[str, ...]]:
    """Return a short word -> what it may mean, folded, in the order of the table."""
    found: dict[str, list[str]] = {}
    for row in read_table("abbreviations.csv", __package__):
        meanings = found.setdefault(plain(name_key(row["word"])), [])
        meaning = plain(name_key(row["meaning"]))
        if meaning not in meanings:
            meanings.append(meaning)
    return {word: tuple(meanings) for word, meanings in found.items()}


@cache
def of_kind(kind: str) -> frozenset[str]:
    """Return the words of one kind of description_words.csv, folded, in both numbers."""
    rows = read_table("description_words.csv", __package__)
    written = " ".join(row["words"] for row in rows if row["kind"] == kind)
    words = plain(name_key(written)).split()
    return frozenset([*words, *map(singular, words)])


@cache
def other_foods() -> Mapping[str, tuple[tuple[str, ...], ...]]:
    """Return first word -> the rows of words that together are another food than each alone."""
    found: dict[str, set[tuple[str, ...]]] = {}
    for row in read_table("description_words.csv", __package__):
        if row["kind"] == "other":
            phrase = name_words(row["words"])
            found.setdefault(phrase[0], set()).add(phrase)
    return {word: tuple(sorted(phrases)) for word, phrases in found.items()}


def other_foods_in(words: Sequence[str]) -> list[tuple[int, tuple[str, ...]]]:
    """Return where words that together are another food begin in `words` (singular), and they."""
    return [
        (start, phrase)
        for start, word in enumerate(words)
        for phrase in other_foods().get(word, ())
        if tuple(words[start : start + len(phrase)]) == phrase
    ]
