"""Suggests official series for ingredients by names and titles; the user decides."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import cache

from ingest.offices.facts.ladders import table_rows
from ingest.offices.facts.offices import office_of
from pricing.answer import Answer
from pricing.book.connect import Book, reading
from pricing.book.read import read_settings, rows
from pricing.contents.choices import ListedIngredient, ingredients_in
from pricing.errors import UnknownName
from pricing.names import name_key, nearest

_WORD = re.compile(r"[^\W\d_]+(?:[.-][^\W\d_]+)*")
_WITHOUT = re.compile(r"\b(?:other than|excluding|except|excl\.).*", re.IGNORECASE)
_CURRENCY = {"uk-ons": "GBP", "ca-statcan": "CAD", "au-abs": "AUD", "us-bls": "USD"}
_LEAST = 0.2  # a score under this is no suggestion


@dataclass(frozen=True, kw_only=True)
class Suggestion(Answer):
    """A series that may move the price of an ingredient."""

    series: str
    title: str
    score: float  # 1 = the title is the ingredient's name
    why: str
    last_month: str | None


@dataclass(frozen=True, kw_only=True)
class Suggested(Answer):
    """An ingredient, the series it names now, and others it might."""

    ingredient: str
    base: str
    series: str | None
    suggestions: tuple[Suggestion, ...]  # best first


def suggest(
    book: Book, ingredient: str | None = None, *, office: str | None = None, most: int = 3
) -> list[Suggested]:
    """Return suggestions for one ingredient, or for all without a series, by name.

    Series come from the book: those of offices whose money is the book's, else all; `office`
    keeps one. Raises UnknownName, BookUnreadable.
    """
    with reading(book) as con:
        ingredients = ingredients_in(con)
        aliases = {
            row["ingredient_id"]: tuple(row["aliases"])
            for row in rows(con, "book/known_ingredients")
        }
        found = rows(con, "contents/series_list")
        currency = read_settings(con).currency
    if ingredient is not None:
        asked = [each for each in ingredients if _is(each, aliases, ingredient)]
        if not asked:
            near = nearest(ingredient, (each.ingredient for each in ingredients))
            raise UnknownName("ingredient", ingredient, near)
    else:
        asked = [each for each in ingredients if each.series is None]
    titles = _candidates(found, currency, office)
    return [
        Suggested(
            ingredient=each.ingredient,
            base=each.base,
            series=each.series,
            suggestions=tuple(_best(each, aliases.get(each.ingredient_id, ()), titles, most)),
        )
        for each in asked
    ]


def _is(each: ListedIngredient, aliases: Mapping[int, Sequence[str]], name: str) -> bool:
    names = (each.ingredient, *aliases.get(each.ingredient_id, ()))
    return name_key(name) in map(name_key, names)


def _candidates(
    found: Iterable[Mapping[str, object]], currency: str, office: str | None
) -> dict[str, tuple[str, str | None]]:
    """Return series → (title, last month) of the series to choose from."""
    whole = {
        str(row["series"]): (str(row["title"]), row["last_month"])
        for row in found
        if row["title"] and row["months"] and not row["seasonally_adjusted"]
    }
    own = {
        series for series in whole
        if (office_of(series) is None or _money(series) == currency)
    }  # fmt: skip
    if office is not None:
        own = {series for series in whole if series.partition(":")[0] == office}
    return {
        series: (title, None if last is None else f"{last:%Y-%m}")
        for series, (title, last) in whole.items()
        if series in own or not own
    }


def _money(series: str) -> str | None:
    key = series.partition(":")[0]
    return "EUR" if key in ("eu-hicp", "eu-hicp-v1", "ie-cso") else _CURRENCY.get(key)


def _best(
    each: ListedIngredient, aliases: Sequence[str], titles: Mapping[str, tuple[str, str | None]],
    most: int,
) -> list[Suggestion]:  # fmt: skip
    scored = []
    for series, (title, last) in titles.items():
        score, why = max(
            score_of(name, each.category, title) for name in (each.ingredient, *aliases)
        )
        if score >= _LEAST:
            scored.append(
                Suggestion(
                    series=series, title=title, score=round(score, 3), why=why, last_month=last
                )
            )
    return sorted(scored, key=lambda each: (-each.score, each.series))[:most]


def score_of(name: str, category: str | None, title: str) -> tuple[float, str]:
    """Return how well a title fits an ingredient, from 0 to 1, and why.

    >>> score_of("whole milk", "dairy", "Whole milk, UK")[1]
    'its name'
    >>> score_of("leek", None, "Vegetables, UK") > score_of("leek", None, "Fruit, UK")
    True
    """
    own, there = words(name), words(title.rsplit(",", 1)[0] if "," in title else title)
    likeness = SequenceMatcher(None, " ".join(own), " ".join(there)).ratio()
    if not there:
        return 0.0, ""
    shared = set(own) & set(there)
    if shared and len(shared) == len(set(own)):
        return 0.9 + 0.1 * likeness, "its name"
    best, why = 0.0, ""
    for place, phrase in enumerate(_meanings(own)):
        wanted = set(phrase.split())
        if wanted <= set(there):
            spare = len(set(there) - wanted)
            score = 0.8 - 0.09 * place - 0.015 * min(spare, 8) + 0.01 * likeness
            score += _state(own, there)
            if score > best:
                best, why = score, f"{own[-1]} belongs to {phrase}"
    kind = set(words(category or ""))
    if kind & set(there) and best < 0.4:
        best, why = 0.4 - 0.02 * min(len(there), 8) + 0.01 * likeness, f"its category, {category}"
    return best, why


def _state(own: Sequence[str], there: Sequence[str]) -> float:
    """Return what speaks for or against a title when the food is not fresh."""
    kept = [state for word, state in _STATES.items() if word in own]
    if not kept:
        return 0.0
    if any(set(state) & set(there) for state in kept):
        return 0.15
    return -0.1 if "fresh" in there else 0.0


_STATES = {
    "canned": ("canned", "preserved", "stable"),
    "tinned": ("canned", "preserved", "stable"),
    "crushed": ("canned", "preserved"),
    "frozen": ("frozen",),
    "dried": ("dried",),
}


def words(text: str) -> list[str]:
    """Return the words of a text that count: small, singular, without what is excepted.

    >>> words("Fresh vegetables other than potatoes")
    ['fresh', 'vegetable']
    """
    plain = _WITHOUT.sub("", text.casefold())
    return [_singular(word) for word in _WORD.findall(plain) if word not in _SMALL]


_SMALL = frozenset({"and", "of", "the", "in", "or", "for", "from", "with", "including", "incl"})


def _singular(word: str) -> str:
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("oes", "shes", "ches", "sses", "xes")):
        return word[:-2]
    return word[:-1] if word.endswith("s") and not word.endswith("ss") and len(word) > 3 else word


@cache
def _table() -> Mapping[str, tuple[str, ...]]:
    return {
        row["word"]: tuple(" ".join(words(phrase)) for phrase in row["means"].split(";"))
        for row in table_rows("kitchen_words.csv")
    }


def _meanings(own: Sequence[str]) -> list[str]:
    """Return what the words of a name mean, the last word first: in `olive oil` it is the oil."""
    pairs = [f"{a}-{b}" for a, b in itertools.pairwise(own)]
    pairs += [f"{b}-{a}" for a, b in itertools.pairwise(own)]
    found: list[str] = []
    for word in (*pairs, *reversed(own)):
        found += [phrase for phrase in _table().get(word, ()) if phrase not in found]
    return found
