"""How well the title of an official series fits an ingredient's name, from 0 to 1, and why."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence
from difflib import SequenceMatcher
from functools import cache, lru_cache

from ingest.offices.facts.ladders import table_rows
from ingest.offices.reading.wording import without_place

STRONG = 0.5  # a fit under this is a weak guess, offered only when asked for

_WORD = re.compile(r"[^\W\d_]+(?:[.-][^\W\d_]+)*")
_WITHOUT = re.compile(r"\b(?:other than|excluding|except|excl\.).*", re.IGNORECASE)
_PART = re.compile(r"[,;()/&]|\b(?:and|or|including|incl)\b", re.IGNORECASE)
_SMALL = frozenset({"and", "of", "the", "in", "or", "for", "from", "with", "including", "incl"})
# words of a title that do not make it narrower
_NEUTRAL = frozenset({
    "fresh", "raw", "live", "chilled", "refrigerated", "uncooked", "other", "related", "product",
    "any", "food", "noncarbonated", "nonfrozen", "nonalcoholic", "non-alcoholic", "distilled",
    "culinary", "at", "home", "brine",
})  # fmt: skip
# how food is kept or made: a title that says so is of other goods than one that does not
_KEPT = frozenset({
    "canned", "preserved", "stable", "frozen", "dried", "dehydrated", "processed", "prepared",
    "preparation", "instant", "smoked", "salted", "ground", "baby", "away",
})  # fmt: skip
_ALSO = {  # state of an ingredient → what titles call it
    "canned": {"canned", "preserved", "stable", "processed"},
    "tinned": {"canned", "preserved", "stable", "processed"},
    "crushed": {"canned", "preserved", "processed"},
    "frozen": {"frozen", "processed"},
    "dried": {"dried", "dehydrated", "processed"},
    "sun-dried": {"dried", "dehydrated", "processed"},
    "smoked": {"smoked", "processed"},
    "instant": {"instant"},
}


def score_of(name: str, category: str | None, title: str) -> tuple[float, str]:
    """Return how well a title fits an ingredient, from 0 to 1, and why.

    From STRONG on, the title is its name, or that of a group which the food at the end of the name
    belongs to. Less: a food named elsewhere in it, or only its category.

    >>> score_of("whole milk", "dairy", "Whole milk, UK")[1]
    'its name'
    >>> score_of("leek", None, "Vegetables, UK") > score_of("leek", None, "Fruit, UK")
    True
    >>> score_of("walnuts", None, "Canned fruits, US city average")
    (0.0, '')
    """
    own, parts = tuple(words(name)), _parts(title)
    there = [word for part in parts for word in part]
    if not own or not there:
        return 0.0, ""
    if _nothing_shared(own, category, there):
        return 0.0, ""
    likeness = SequenceMatcher(None, " ".join(own), " ".join(there)).ratio()
    same = set(there) - _NEUTRAL == set(own) - _NEUTRAL and set(own) - _NEUTRAL
    if same and _kept_alike(own, parts, own):
        return 0.9 + 0.1 * likeness, "its name"
    best, why = 0.0, ""
    for phrase, place, sure in _groups(own):
        score = (1.0 if sure else 0.5) * _fit(own, parts, phrase, place, likeness)
        if score > best:
            best, why = score, f"{name} belongs to {phrase.removeprefix('=')}"
    kind = set(words(category or ""))
    if best < 0.4 and kind and kind <= set(there):
        best = 0.4 - 0.02 * min(len(there), 8) + 0.01 * likeness
        why = f"its category, {category}"
    return best, why


def _nothing_shared(own: tuple[str, ...], category: str | None, there: Sequence[str]) -> bool:
    """Whether a title has no word of the name, of a group of it, or of its category."""
    meant = {word for phrase, *_ in _groups(own) for word in phrase.removeprefix("=").split()}
    return meant.isdisjoint(there) and set(words(category or "")).isdisjoint(there)


def _fit(
    own: Sequence[str], parts: Sequence[Sequence[str]], phrase: str, place: int, likeness: float
) -> float:
    """Return the score of a title that has all words of a group, else 0."""
    whole, wanted = phrase.startswith("="), set(phrase.removeprefix("=").split())
    there = {word for part in parts for word in part}
    if (whole and wanted != there) or not _kept_alike(own, parts, wanted):
        return 0.0
    allowed = wanted | set(own) | _NEUTRAL | _KEPT
    served = {word for part in parts if set(part) <= allowed for word in part}
    if not wanted <= served:
        return 0.0
    spare = len(there - wanted - _NEUTRAL)
    more = 0.04 * min(len((there & set(own)) - wanted), 2)  # the title is as narrow as the name
    state = 0.1 if _states(own) & there else 0.0
    return 0.8 - 0.03 * min(place, 8) - 0.008 * min(spare, 5) + more + state + 0.01 * likeness


def _kept_alike(
    own: Sequence[str], parts: Sequence[Sequence[str]], wanted: Sequence[str] | set[str]
) -> bool:
    """Whether a title is of food kept as the ingredient is, as far as both say so."""
    there = {word for part in parts for word in part}
    # of parts that name no food, or a food that is wanted: `and dried`, `canned fruits`
    kept = {
        word
        for part in parts
        for word in _KEPT & set(part)
        if set(part) - _KEPT <= _NEUTRAL | set(wanted) and not _clean(parts, part)
    }
    said = _states(own)
    if said:
        return bool(kept & said) or not (kept or "fresh" in there)
    return not kept or "fresh" in there or bool(kept & (set(wanted) | set(own)))


def _clean(parts: Sequence[Sequence[str]], part: Sequence[str]) -> bool:
    """Whether another part names the same food without a word on how it is kept."""
    bare = set(part) - _KEPT - _NEUTRAL
    return bool(bare) and any(bare == set(other) - _NEUTRAL for other in parts)


def _states(own: Sequence[str]) -> set[str]:
    return set().union(*(_ALSO[word] for word in own if word in _ALSO))


def words(text: str) -> list[str]:
    """Return the words of a text that count: small, singular, without what is excepted.

    >>> words("Fresh vegetables other than potatoes")
    ['fresh', 'vegetable']
    """
    plain = _WITHOUT.sub("", _without_accents(text.casefold()))
    return [_singular(word) for word in _WORD.findall(plain) if word not in _SMALL]


@lru_cache(maxsize=8192)
def _parts(title: str) -> tuple[tuple[str, ...], ...]:
    """Return the words of a title, item by item of its list, without the place at its end.

    >>> _parts("Beer, ale, and other malt beverages at home, US city average")
    (('beer',), ('ale',), ('other', 'malt', 'beverage', 'at', 'home'))
    """
    named = _WITHOUT.sub("", without_place(title))
    return tuple(found for part in _PART.split(named) if (found := tuple(words(part))))


def _without_accents(text: str) -> str:
    apart = unicodedata.normalize("NFD", text)
    return "".join(each for each in apart if not unicodedata.combining(each))


def _singular(word: str) -> str:
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith("leaves"):
        return word[:-3] + "f"
    if word.endswith(("oes", "shes", "ches", "sses", "xes")):
        return word[:-2]
    return word[:-1] if word.endswith("s") and not word.endswith("ss") and len(word) > 3 else word


@cache
def _table() -> Mapping[str, tuple[str, ...]]:
    """Return what each kitchen word means; an empty meaning is a cut or a shape."""
    return {
        row["word"]: tuple(
            ("=" if phrase.strip().startswith("=") else "") + " ".join(words(phrase))
            for phrase in row["means"].split(";")
            if phrase.strip()
        )
        for row in table_rows("kitchen_words.csv")
    }


@lru_cache(maxsize=1024)
def _groups(own: tuple[str, ...]) -> list[tuple[str, int, bool]]:
    """Return groups that a name may belong to: the words, the place, whether it is the food meant.

    Two words that stand beside each other come before each alone. The last word names the food
    (in `olive oil` it is the oil), unless it is a cut or a shape; a last word that is not known may
    name another food, and then all is a guess.
    """
    found = [(" ".join(own), 0, True)]
    table, foods, sure = _table(), list(own), True
    while foods:
        pair = next(
            (key for key in ("-".join(foods[-2:]), "-".join(foods[:-3:-1])) if key in table),
            None,
        ) if len(foods) > 1 else None  # fmt: skip
        key = pair or foods[-1]
        foods = foods[: -2 if pair else -1]
        if key not in table:
            sure = False
        elif table[key]:
            found += [(phrase, place, sure) for place, phrase in enumerate(table[key])]
            sure = False
    return found
