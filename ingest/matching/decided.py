"""Earlier decisions, asked for the same words and for words like them."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from ingest.matching.known import Decided
from ingest.matching.name_score import kind_of
from ingest.matching.words import meanings_of, singular, words_key

SAME_WORDS, OTHER_SENDER, LIKE_WORDS = 1.0, 0.98, 0.94
_LEAST = 0.5  # of 1: how much of their words two descriptions share at least
_ANOTHER_FOOD = 0.4  # what is left where they differ in a word that names a food or a good
_OFTEN = 400  # a word of more decisions than this does not tell them apart
_WEIGHT = {"light": 0.4, "state": 0.6, "link": 0.0, "noise": 0.1}


@dataclass(frozen=True, kw_only=True)
class Found:
    """A decision that may serve again, and how well."""

    decided: Decided
    score: float
    why: str


class DecidedBefore:
    """The decisions of a book, in the order they were made; a later one counts over an earlier."""

    def __init__(self, decided: Sequence[Decided], foods: frozenset[str]) -> None:
        self._foods = foods
        self._by_key: defaultdict[str, dict[str | None, Decided]] = defaultdict(dict)
        held: dict[tuple[frozenset[str], int | None], Decided] = {}
        for each in decided:
            of_sender = self._by_key[words_key(each.words)]
            of_sender.pop(each.sender, None)
            of_sender[each.sender] = each
            held[_words_of(each.words), each.ingredient_id] = each
        self._held = [(words, each) for (words, _), each in held.items() if words]
        self._places: defaultdict[str, list[int]] = defaultdict(list)
        for place, (words, _) in enumerate(self._held):
            for word in words:
                self._places[word].append(place)
        self._weights: dict[str, float] = {}

    def same(self, words: str, sender: str | None) -> Found | None:
        """Return what was decided for these very words, by this sender if it was, else the last."""
        of_sender = self._by_key.get(words_key(words))
        if not of_sender:
            return None
        if sender in of_sender:
            return Found(
                decided=of_sender[sender],
                score=SAME_WORDS,
                why="the same words were decided before",
            )
        latest = next(reversed(of_sender.values()))
        return Found(
            decided=latest,
            score=OTHER_SENDER,
            why=f"the same words of {latest.sender or 'another sender'} were decided before",
        )

    def like(self, words: str) -> list[Found]:
        """Return the decisions for words like these, the best of each ingredient, best first."""
        asked = _words_of(words)
        rare = sorted(
            (word for word in asked if 0 < len(self._places.get(word, ())) <= _OFTEN),
            key=lambda word: (len(self._places[word]), word),
        )
        shared = Counter(place for word in rare[:5] for place in self._places[word])
        best: dict[int | None, Found] = {}
        for place, _ in shared.most_common(12):
            there, decided = self._held[place]
            score = LIKE_WORDS * self._alike(asked, there)
            known = best.get(decided.ingredient_id)
            if score >= _LEAST * LIKE_WORDS and (known is None or score > known.score):
                best[decided.ingredient_id] = Found(
                    decided=decided, score=score, why=f"decided before: {decided.words}"
                )
        return sorted(best.values(), key=lambda found: -found.score)

    def _alike(self, asked: frozenset[str], there: frozenset[str]) -> float:
        """Return the share of words that two descriptions have in common, the rarer the more."""
        both, either = asked & there, asked | there
        total = sum(map(self._weight, either))
        share = sum(map(self._weight, both)) / total if total else 0.0
        differ = {kind_of(word, self._foods) for word in either - both}
        return share * (_ANOTHER_FOOD if differ & {"food", "made", "cut"} else 1.0)

    def _weight(self, word: str) -> float:
        weight = self._weights.get(word)
        if weight is None:
            seen = len(self._places.get(word, ()))
            rare = 1 + 0.15 * math.log((1 + len(self._held)) / (1 + seen))
            weight = self._weights[word] = rare * _WEIGHT.get(kind_of(word, self._foods), 1.0)
        return weight


def _words_of(words: str) -> frozenset[str]:
    return frozenset(singular(meanings[0]) for meanings in meanings_of(words))
