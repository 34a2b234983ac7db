"""Proposes which ingredient, pack and product a description means; never decides it."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from ingest.matching.decided import DecidedBefore, Found
from ingest.matching.food_names import names_elsewhere
from ingest.matching.known import Asked, Decided, KnownIngredient, Proposal
from ingest.matching.name_score import described, kind_of, name_form, name_score
from ingest.matching.packs import PackFound, pack_in_words
from ingest.matching.word_match import WordMatch
from ingest.matching.words import meanings_of, name_words, of_kind, singular
from pricing.errors import MeasureRefused
from pricing.measures.read import Quantity, in_base, missing_fact, read_pack

LEAST = 0.3  # a candidate under this is not told
_LOOKED_AT = 12  # names scored in full, those that share most with the description
_ELSEWHERE = 0.96  # a name that the kitchen itself does not use, mostly of another language
_ANOTHER_KIND = 0.68  # and one that may mean another kind of the food
_TOO_NEAR = 0.03  # two ingredients as near as this cannot be told apart
_NOT_TOLD_APART = 0.75
_FAR = 3  # times as dear or as cheap as the book expects: the check of ⅓ to 3
_PACK_FITS, _PRICE_FITS = 0.05, 0.25  # how much evidence adds: the most at a score of 0.5
_NO_WAY_TO_BASE, _PRICE_FAR = 0.85, 0.55


@dataclass(kw_only=True)
class _Candidate:
    score: float
    why: list[str]
    decided: Decided | None = None
    pack: str | None = None


class Proposer:
    """What is known of a book's ingredients and earlier decisions, asked for descriptions."""

    def __init__(
        self,
        ingredients: Sequence[KnownIngredient],
        decided: Sequence[Decided],
        measures: str,
    ) -> None:
        self._measures = measures
        self._ingredients = tuple(ingredients)
        self._by_id = {each.ingredient_id: each for each in ingredients}
        named = _names_of(self._ingredients)
        shared = _shared_foods(named)
        self._forms = [name_form(place, name, shared) for place, name, _ in named]
        self._counts = [counts for *_, counts in named]  # what a fit of each form counts
        self._forms_of: defaultdict[str, list[tuple[int, float]]] = defaultdict(list)
        for at, form in enumerate(self._forms):
            total = sum(form.weights) or 1.0
            for word, weight in zip(form.words, form.weights, strict=True):
                if weight:
                    self._forms_of[word].append((at, weight / total))
        heads = {form.words[form.head] for form in self._forms}
        self._foods = frozenset(
            word for word in heads if kind_of(word, frozenset()) in ("food", "unknown", "made")
        )
        self._words = WordMatch(self._forms_of, of_kind("compound"))
        self._before = DecidedBefore(decided, self._foods)

    def propose(self, many: Sequence[Asked]) -> list[Proposal]:
        """Return what each description may mean, in the order asked."""
        return [self._propose(asked) for asked in many]

    def _propose(self, asked: Asked) -> Proposal:
        same = self._before.same(asked.words, asked.sender)
        if same is not None:
            return self._as_decided(asked, same)
        found = None if asked.pack else pack_in_words(asked.words, self._measures)
        candidates: dict[int | None, _Candidate] = {}
        for place, (score, name) in self._by_name(asked.words).items():
            each = self._ingredients[place]
            candidates[each.ingredient_id] = _Candidate(score=score, why=[f"its name: {name}"])
        for like in self._before.like(asked.words):
            known = candidates.get(like.decided.ingredient_id)
            if known is None or known.score < like.score:
                candidates[like.decided.ingredient_id] = _Candidate(
                    score=like.score, why=[like.why], decided=like.decided
                )
        for key, candidate in candidates.items():
            if key is not None and key in self._by_id:
                self._weigh(candidate, self._by_id[key], asked, found)
        return _best(candidates, asked.pack or (found.pack if found else None))

    def _as_decided(self, asked: Asked, same: Found) -> Proposal:
        found = None if asked.pack else pack_in_words(asked.words, self._measures)
        read = asked.pack or (found.pack if found else None)
        return Proposal(
            ingredient_id=same.decided.ingredient_id,
            pack=same.decided.pack or read,
            product=same.decided.product,
            score=same.score,
            why=(same.why,),
            others=(),
        )

    def _by_name(self, words: str) -> dict[int, tuple[float, str]]:
        """Return place of an ingredient -> how well its best name fits, and that name."""
        meanings = self._joined(meanings_of(words))
        like = [self._like(each) for each in meanings]
        shared: defaultdict[int, float] = defaultdict(float)
        for each in like:
            for word, value in each.items():
                for at, share in self._forms_of[word]:
                    shared[at] += value * share
        text = described(list(map(_one_of, meanings, like)), like, self._foods)
        looked_at = sorted(shared, key=lambda at: (-shared[at], len(self._forms[at].words), at))
        found: dict[int, tuple[float, str]] = {}
        for at in looked_at[:_LOOKED_AT]:
            form = self._forms[at]
            score = name_score(form, text) * self._counts[at]
            if score > found.get(form.ingredient, (0.0, ""))[0]:
                found[form.ingredient] = (score, form.name)
        return found

    def _joined(self, meanings: Sequence[tuple[str, ...]]) -> list[tuple[str, ...]]:
        """Return the words with two of them as one where a name has them so: chick peas."""
        found: list[tuple[str, ...]] = []
        for each in meanings:
            both = found[-1][-1] + each[-1] if found else ""
            if singular(both) in self._forms_of:
                found[-1] = (both,)
            else:
                found.append(each)
        return found

    def _like(self, meanings: Sequence[str]) -> dict[str, float]:
        found: dict[str, float] = {}
        for meaning in meanings:
            one = singular(meaning)
            if one not in self._forms_of and kind_of(one, self._foods) not in ("unknown", "food"):
                continue  # "vine" is a word of its own, not short for vinegar
            for word, value in self._words.like(one).items():
                found[word] = max(value, found.get(word, 0.0))
        return found

    def _weigh(
        self, candidate: _Candidate, each: KnownIngredient, asked: Asked, found: PackFound | None
    ) -> None:
        """Let the pack and the price speak for a candidate, or against it."""
        packs = [asked.pack] if asked.pack else [found.pack, found.pieces] if found else []
        held = [(pack, base) for pack in packs if pack and (base := self._in_base(pack, each))]
        if not held:
            if packs:
                candidate.score *= _NO_WAY_TO_BASE
                candidate.why.append(f"its pack cannot be turned into {each.facts.base}")
            return
        candidate.pack, base = held[0]
        candidate.score = _raised(candidate.score, _PACK_FITS)
        if asked.price is None or not asked.currency_is_books or not each.expected:
            return
        ratio = float(asked.price) / base / each.expected
        whole = found.whole if found else None
        in_all = self._in_base(whole, each) if whole else None
        if in_all and not _near(ratio) and _near(ratio * base / in_all):
            candidate.pack, ratio = whole, ratio * base / in_all
            candidate.why.append(f"its price is that of {whole} in all")
        if _near(ratio):
            candidate.score = _raised(candidate.score, _PRICE_FITS)
            candidate.why.append("its price is near what the book expects")
        else:
            candidate.score *= _PRICE_FAR
            candidate.why.append(f"its price is {ratio:.2g} times what the book expects")

    def _in_base(self, pack: str, each: KnownIngredient) -> float | None:
        own = tuple(each.facts.grams_by_measure)
        quantity = _held(pack, self._measures, own)
        if quantity is None or missing_fact(quantity, each.facts):
            return None
        return in_base(quantity, each.facts)


def _one_of(meanings: Sequence[str], like: Mapping[str, float]) -> str:
    """Return the meaning of a word to judge it by, in the singular: the one that a name has.

    What may be noise is taken for it: in "basil pot" nothing says that a potato is meant.
    """
    own, first = singular(meanings[-1]), singular(meanings[0])
    if own in of_kind("noise"):
        return own
    if not like or first in like:
        return first
    known = [word for word, value in like.items() if value == max(like.values())]
    return known[0] if len(known) == 1 else first


def _names_of(ingredients: Sequence[KnownIngredient]) -> list[tuple[int, str, float]]:
    """Return place of an ingredient, a name of it, and what a fit of that name counts.

    First the kitchen's own names, then those of other languages that are not among them.
    """
    own = [
        (place, name, 1.0)
        for place, each in enumerate(ingredients)
        for name in dict.fromkeys((each.name, *each.aliases))
        if name_words(name)
    ]
    known = {name_words(name) for _, name, _ in own}
    elsewhere = [
        (place, name, _ELSEWHERE if sure else _ANOTHER_KIND)
        for place, each in enumerate(ingredients)
        for name, sure in names_elsewhere((each.name, *each.aliases)).items()
        if name_words(name) not in known
    ]
    return own + elsewhere


def _shared_foods(named: Iterable[tuple[int, str, float]]) -> frozenset[str]:
    """Return the foods that more than one ingredient is of: cream, of double and sour cream."""
    forms = [name_form(place, name) for place, name, _ in named]
    of_each = {(form.words[form.head], form.ingredient) for form in forms}
    foods = Counter(food for food, _ in of_each)
    return frozenset(food for food, count in foods.items() if count > 1)


@lru_cache(maxsize=10_000)
def _held(pack: str, measures: str, own_measures: tuple[str, ...]) -> Quantity | None:
    try:
        return read_pack(pack, measures, own_measures)
    except MeasureRefused:
        return None


def _near(ratio: float) -> bool:
    return 1 / _FAR <= ratio <= _FAR


def _raised(score: float, part: float) -> float:
    """Return a score with evidence for it: a weak one stays weak, and none goes over 1."""
    return score + part * score * (1 - score)


def _best(candidates: dict[int | None, _Candidate], pack: str | None) -> Proposal:
    ranked = sorted(
        ((key, each) for key, each in candidates.items() if each.score >= LEAST),
        key=lambda pair: (-pair[1].score, pair[0] is None, pair[0] or 0),
    )
    if not ranked:
        return Proposal(ingredient_id=None, pack=pack, product=None, score=0.0, why=(), others=())
    key, best = ranked[0]
    score, why = best.score, list(best.why)
    if len(ranked) > 1 and score - ranked[1][1].score < _TOO_NEAR:
        score *= _NOT_TOLD_APART
        why.append("another ingredient is as near")
    of = best.decided
    return Proposal(
        ingredient_id=key,
        pack=best.pack or pack or (of.pack if of else None),
        product=of.product if of else None,
        score=round(score, 3),
        why=tuple(why),
        others=tuple(
            (other, round(min(score, each.score), 3))
            for other, each in ranked[1:4]
            if other is not None
        ),
    )
