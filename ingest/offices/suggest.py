"""Suggests official series for ingredients by names and titles; the user decides."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from ingest.offices.facts.offices import office_of
from ingest.offices.title_fit import STRONG, score_of
from pricing.answer import Answer
from pricing.book.connect import Book, reading
from pricing.book.read import read_settings, rows
from pricing.contents.choices import ListedIngredient, ingredients_in
from pricing.errors import UnknownName
from pricing.names import name_key, nearest

_LEAST = 0.2  # a score under this is no suggestion, not even a weak one


@dataclass(frozen=True, kw_only=True)
class Suggestion(Answer):
    """A series that may move the price of an ingredient."""

    series: str
    title: str
    score: float  # 1 = the title is the ingredient's name
    weak: bool  # a guess, shown only when asked for
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
    book: Book,
    ingredient: str | None = None,
    *,
    office: str | None = None,
    weak: bool = False,
    most: int = 3,
) -> list[Suggested]:
    """Return suggestions for one ingredient, or for all without a series, by name.

    Series come from the book: those of offices whose money is the book's, else all; `office`
    keeps one. `weak`: guesses, too (scores under STRONG). Raises UnknownName, BookUnreadable.
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
    titles = series_to_choose_from(found, currency, office)
    least = _LEAST if weak else STRONG
    return [
        Suggested(
            ingredient=each.ingredient,
            base=each.base,
            series=each.series,
            suggestions=tuple(
                fitting
                for fitting in _best(each, aliases.get(each.ingredient_id, ()), titles)
                if fitting.score >= least
            )[:most],
        )
        for each in asked
    ]


def _is(each: ListedIngredient, aliases: Mapping[int, Sequence[str]], name: str) -> bool:
    names = (each.ingredient, *aliases.get(each.ingredient_id, ()))
    return name_key(name) in map(name_key, names)


def series_to_choose_from(
    found: Iterable[Mapping[str, object]], currency: str, office: str | None
) -> dict[str, tuple[str, str | None]]:
    """Return series → (title, last month), of rows of contents/series_list.

    Those of an office, or of offices of the currency's country; all where there are none of these.
    """
    whole = {
        str(row["series"]): (str(row["title"]), row["last_month"])
        for row in found
        if row["title"] and row["months"] and not row["seasonally_adjusted"]
    }
    if office is None:
        own = {
            series for series in whole
            if (publisher := office_of(series)) is None or publisher.currency == currency
        }  # fmt: skip
    else:
        own = {series for series in whole if series.partition(":")[0] == office}
    return {
        series: (title, None if last is None else f"{last:%Y-%m}")
        for series, (title, last) in whole.items()
        if series in own or not own
    }


def _best(
    each: ListedIngredient, aliases: Sequence[str], titles: Mapping[str, tuple[str, str | None]]
) -> list[Suggestion]:
    """Return all that can be said for any title, the best first."""
    scored = []
    for series, (title, last) in titles.items():
        score, why = max(
            score_of(name, each.category, title) for name in (each.ingredient, *aliases)
        )
        if score > 0:
            scored.append(
                Suggestion(
                    series=series,
                    title=title,
                    score=round(score, 3),
                    weak=score < STRONG,
                    why=why,
                    last_month=last,
                )
            )
    return sorted(scored, key=lambda each: (-each.score, each.series))
