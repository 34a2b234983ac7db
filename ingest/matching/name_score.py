"""How well a description fits the name of an ingredient, from 0 to 1, by what each word does."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

from ingest.matching.words import name_words, of_kind, other_foods_in, singular
from pricing.reference.table import read_table

_KINDS = (
    ("links", "link"),
    ("without", "state"),
    ("state", "state"),
    ("light", "light"),
    ("cut", "cut"),
    ("made", "made"),
)
_WEIGHT = {"light": 0.3, "state": 0.5, "cut": 0.8, "link": 0.0, "noise": 0.0}
_TELLS = 0.8  # the weight of a kind or a state where it tells ingredients of one food apart
_HEAD = 1.5  # the weight of the word that names the food itself
_WITHOUT_WORD = 0.75  # "wine vinegar" is not yet "cider vinegar"
_WITHOUT_HEAD = 0.3  # "lemon" is little of "lemon juice"
# what a word of the description leaves of a score, when the name does not have it
_LEFT_OVER = {"light": 0.95, "state": 0.68, "cut": 0.68, "noise": 1.0, "link": 1.0}
_UNKNOWN = 0.95  # before the food it is a brand, mostly
_UNKNOWN_AFTER = 0.68  # and after it the good itself, often: spaghetti hoops, lemon tablets
_MADE_AFTER, _MADE_BEFORE, _MADE_OF = 0.3, 0.6, 0.85
_FOOD_AFTER, _FOOD_BEFORE = 0.35, 0.6
_OTHER_FOOD = 0.25
_NOT_WHOLE = 0.97  # the most for a name beside which other words stand


@dataclass(frozen=True, kw_only=True)
class NameForm:
    """A name or an alias, as it is compared."""

    ingredient: int  # its place in the list of ingredients
    name: str
    words: tuple[str, ...]
    weights: tuple[float, ...]
    head: int  # place of the word that names the food


@dataclass(frozen=True, kw_only=True)
class Described:
    """The words of a description in order, and which words of the names each may be."""

    words: tuple[str, ...]  # in the singular, the first meaning of each
    kinds: tuple[str, ...]
    like: tuple[dict[str, float], ...]
    others: tuple[tuple[int, tuple[str, ...]], ...]  # words that together are another food
    link: int  # place of the first word like "in" or "de", else the number of words


def name_form(ingredient: int, name: str, shared: Collection[str] = ()) -> NameForm:
    """Return a name as it is compared; the food is its last word, or the one before "de", "in".

    `shared` are foods that several ingredients are of: of these, a kind tells which.
    """
    words = name_words(name)
    kinds = [kind_of(word, frozenset()) for word in words]
    link = kinds.index("link") if "link" in kinds else len(words)
    heads = [place for place in range(link) if kinds[place] not in ("light", "state", "noise")]
    head = heads[-1] if heads else max(0, min(link, len(words)) - 1)
    weights = [_WEIGHT.get(kind, 1.0) for kind in kinds]
    if words and words[head] in shared:
        weights = [
            _TELLS if kind in ("light", "state") else _WEIGHT.get(kind, 1.0) for kind in kinds
        ]
    if words:
        weights[head] = _HEAD
    return NameForm(
        ingredient=ingredient, name=name, words=words, weights=tuple(weights), head=head
    )


@cache
def kitchen_foods() -> frozenset[str]:
    """Return the English words for foods that the table of kitchen words has."""
    return frozenset(word for word, means in _kitchen_words().items() if means and "-" not in word)


@cache
def _kitchen_words() -> Mapping[str, str]:
    """Return a kitchen's word -> the groups of official titles that it belongs to."""
    rows = read_table("kitchen_words.csv", "ingest.offices.facts")
    return {row["word"]: row["means"] for row in rows}


@cache
def groups_of(food: str) -> frozenset[str]:
    """Return the words for what a food is one of, which say nothing new beside it: feta, cheese."""
    first = _kitchen_words().get(food, "").split(";")[0].strip(" =")
    return frozenset() if not first or " " in first else frozenset({singular(first)})


def kind_of(word: str, foods: Collection[str]) -> str:
    """Return what a word of a description does; `foods` are words that name ingredients."""
    kind = _kind(word)
    return "food" if kind in ("noise", "unknown") and word in foods else kind


@lru_cache(maxsize=200_000)
def _kind(word: str) -> str:
    for kind, named in _KINDS:
        if word in of_kind(kind):
            return named
    if word in kitchen_foods():
        return "food"
    return "noise" if word in of_kind("noise") or len(word) < 2 else "unknown"


def described(
    words: Sequence[str], like: Sequence[dict[str, float]], foods: frozenset[str]
) -> Described:
    """Return a description ready to be held against names."""
    kinds = tuple(kind_of(word, foods) for word in words)
    return Described(
        words=tuple(words),
        kinds=kinds,
        like=tuple(like),
        others=tuple(other_foods_in(words)),
        link=kinds.index("link") if "link" in kinds[1:] else len(words),
    )


def name_score(form: NameForm, text: Described) -> float:
    """Return how well a description fits a name: the share of its words, less what speaks against.

    1 where the description is the name and nothing else.
    """
    met, places = _met(form, text)
    total = sum(form.weights)
    if not total or not places:
        return 0.0
    score = sum(met) / total
    if not met[form.head]:
        score *= _WITHOUT_HEAD
    if any(weight >= _TELLS and not has for has, weight in zip(met, form.weights, strict=True)):
        score *= _WITHOUT_WORD
    used = set(places)
    left = [place for place in range(len(text.words)) if place not in used]
    if not any(text.kinds[place] not in ("noise", "link") for place in left):
        return score
    head = places[0] if len(places) == 1 else max(used)
    last = text.link < len(text.words) and min(used) > text.link  # named after "in", "de"
    if last:
        score *= _FOOD_BEFORE
    unknown = [place for place in left if text.kinds[place] == "unknown"]
    for place in left:
        if place in unknown:
            continue
        word = text.words[place]
        if word in groups_of(form.words[form.head]) or word in form.words:
            continue
        score *= _left_over(text, place, head)
    if unknown:
        after = unknown[-1] > head and text.link == len(text.words)
        score *= _UNKNOWN_AFTER if after else _UNKNOWN ** min(len(unknown), 2)
    for start, phrase in text.others:
        span = range(start, start + len(phrase))
        if not used.isdisjoint(span) and not set(phrase) <= set(form.words):
            score *= _OTHER_FOOD
    return min(score, _NOT_WHOLE)


def _met(form: NameForm, text: Described) -> tuple[list[float], list[int]]:
    """Return what each word of the name counts, and where in the description it stands."""
    met, places = [0.0] * len(form.words), []
    for at, word in enumerate(form.words):
        best, where = 0.0, -1
        for place, like in enumerate(text.like):
            value = like.get(word, 0.0)
            if value > best and place not in places:
                best, where = value, place
        if where >= 0:
            met[at] = best * form.weights[at]
            places.append(where)
    return met, places


def _left_over(text: Described, place: int, head: int) -> float:
    """Return what a known word leaves of a score when it stands beside the food named."""
    kind = text.kinds[place]
    if kind in _LEFT_OVER:
        return _LEFT_OVER[kind]
    linked = text.link < len(text.words)
    if kind == "made":
        if linked:
            return _MADE_OF if place > text.link > head else _MADE_AFTER
        return _MADE_AFTER if place > head else _MADE_BEFORE
    if linked:
        return _MADE_OF if place > text.link > head else _FOOD_AFTER
    return _FOOD_AFTER if place > head else _FOOD_BEFORE
