"""Proposes which ingredient, pack and product a description means; never decides it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from ingest.matching.decided import DecidedBefore, Found
from ingest.matching.known import Asked, Decided, KnownIngredient, Proposal
from ingest.matching.name_score import NameForm, described, kind_of, name_form, name_score
from ingest.matching.packs import PackFound, pack_in_words
from ingest.matching.word_match import WordMatch
from ingest.matching.words import meanings_of, of_kind, singular
from pricing.errors import MeasureRefused
from pricing.measures.read import Quantity, in_base, missing_fact, read_pack

LEAST = 0.3  # a candidate under this is not told
_LOOKED_AT = 12  # names scored in full, those that share most with the description
_TOO_NEAR = 0.03  # two ingredients as near as this cannot be told apart
_NOT_TOLD_APART = 0.75
_FAR = 3  # times as dear or as cheap as the book expects: the check of ⅓ to 3
_PACK_FITS, _PRICE_FITS = 0.05, 0.25  # the part of what is missing to 1 that evidence adds
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
        self._forms: list[NameForm] = []
        for place, each in enumerate(self._ingredients):
            names = dict.fromkeys((each.name, *each.aliases))
            self._forms += [form for name in names if (form := name_form(place, name)).words]
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
        meanings = meanings_of(words)
        like = [self._like(each) for each in meanings]
        shared: defaultdict[int, float] = defaultdict(float)
        for each in like:
            for word, value in each.items():
                for at, share in self._forms_of[word]:
                    shared[at] += value * share
        first = [singular(each[0]) for each in meanings]
        for place, each in enumerate(like):  # of several meanings, the one that a name has
            if each and first[place] not in each:
                known = [word for word, value in each.items() if value == max(each.values())]
                first[place] = min(known) if len(known) == 1 else first[place]
        text = described(first, like, self._foods)
        looked_at = sorted(shared, key=lambda at: (-shared[at], len(self._forms[at].words), at))
        found: dict[int, tuple[float, str]] = {}
        for at in looked_at[:_LOOKED_AT]:
            form = self._forms[at]
            score = name_score(form, text)
            if score > found.get(form.ingredient, (0.0, ""))[0]:
                found[form.ingredient] = (score, form.name)
        return found

    def _like(self, meanings: Sequence[str]) -> dict[str, float]:
        found: dict[str, float] = {}
        for meaning in meanings:
            for word, value in self._words.like(singular(meaning)).items():
                found[word] = max(value, found.get(word, 0.0))
        return found

    def _weigh(
        self, candidate: _Candidate, each: KnownIngredient, asked: Asked, found: PackFound | None
    ) -> None:
        """Let the pack and the price speak for a candidate, or against it."""
        packs = [asked.pack] if asked.pack else [found.pack, found.pieces] if found else []
        held = None
        for pack in filter(None, packs):
            held = self._in_base(pack, each)
            if held is not None:
                candidate.pack = pack
                break
        if held is None:
            if packs:
                candidate.score *= _NO_WAY_TO_BASE
                candidate.why.append(f"its pack cannot be turned into {each.facts.base}")
            return
        candidate.score += (1 - candidate.score) * _PACK_FITS
        if asked.price is None or not asked.currency_is_books or not each.expected:
            return
        ratio = float(asked.price) / held / each.expected
        if 1 / _FAR <= ratio <= _FAR:
            candidate.score += (1 - candidate.score) * _PRICE_FITS
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


@lru_cache(maxsize=10_000)
def _held(pack: str, measures: str, own_measures: tuple[str, ...]) -> Quantity | None:
    try:
        return read_pack(pack, measures, own_measures)
    except MeasureRefused:
        return None


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
            (other, round(each.score, 3)) for other, each in ranked[1:4] if other is not None
        ),
    )
