"""Which words of a list a till's word may be: the same, a slip of the pen, or written short."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

SAME, SLIP, SHORT, COMPOUND = 1.0, 0.9, 0.85, 0.6
_LEAST_LETTERS = 5  # a shorter word is near only itself: rye is no rice
_SLIP_FROM = 84  # of 100: how alike the letters of two words are at least
_VOWELS = frozenset("aeiouy")


class WordMatch:
    """The words of a list, asked which of them a written word may be."""

    def __init__(self, words: Iterable[str], compounds: Iterable[str]) -> None:
        self._words = frozenset(words)
        self._compounds = tuple(compounds)
        self._by_first: defaultdict[str, list[str]] = defaultdict(list)
        for word in sorted(self._words):
            self._by_first[word[0]].append(word)
        self._found: dict[str, dict[str, float]] = {}

    def like(self, word: str) -> dict[str, float]:
        """Return word of the list -> likeness, COMPOUND to SAME; a known word is only itself."""
        found = self._found.get(word)
        if found is None:
            found = self._found[word] = self._like(word)
        return found

    def _like(self, word: str) -> dict[str, float]:
        if word in self._words:
            return {word: SAME}
        bucket = self._by_first.get(word[:1], [])
        found: dict[str, float] = {}
        if len(word) >= _LEAST_LETTERS:
            from rapidfuzz import fuzz, process  # here, so that commands start without it

            near = process.extract(
                word, bucket, scorer=fuzz.ratio, score_cutoff=_SLIP_FROM, limit=3
            )
            found = {other: SLIP for other, *_ in near if len(other) >= _LEAST_LETTERS}
        if not found and len(word) >= 3:
            short = [other for other in bucket if _is_short_for(word, other)]
            found = dict.fromkeys(short, SHORT) if len(short) <= 3 else {}
        return found or self._compound(word)

    def _compound(self, word: str) -> dict[str, float]:
        """Return the word of the list at the end of a word of a language that joins them."""
        for start in range(3, len(word) - 3):
            if word[start:] in self._words:
                before = word[:start]
                if any(before.startswith(each) for each in self._compounds):
                    return {}
                return {word[start:]: COMPOUND}
        return {}


def _is_short_for(word: str, full: str) -> bool:
    """Tell whether a till may have cut `full` off, or left out its vowels, to write `word`.

    >>> _is_short_for("choc", "chocolate"), _is_short_for("grlc", "garlic")
    (True, True)
    """
    if len(full) < len(word) + 2:
        return False
    if full.startswith(word):
        return True
    if not _VOWELS.isdisjoint(word):
        return False
    return word == "".join(letter for letter in full if letter not in _VOWELS)
