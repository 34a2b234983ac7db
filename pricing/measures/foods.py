"""Offers published weights of household measures for an ingredient; a cook decides to take them."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from difflib import SequenceMatcher
from fractions import Fraction
from functools import cache

from pricing.measures.quantities import as_amount
from pricing.names import name_key
from pricing.reference.table import read_table

NOTE = (
    "The refuse is that of one market form of the food (almonds carry 60 % for their shells). "
    "Check that yours is bought in that form before you take the weight as purchased. "
    "Cups and spoons are US ones."
)
LEAST_LIKENESS = 0.5  # of 1; below it a food is not offered (chosen by trying names, no source)


@dataclass(frozen=True, kw_only=True)
class FoodMeasure:
    """Published weight of `amount` of a household measure."""

    amount: Decimal  # how many of the measure the grams are for; mostly 1
    measure: str  # the source's words: "medium (2-1/2\" dia)"; cups and spoons are US
    grams_edible: Decimal  # g of `amount` of it, without the refuse, as printed
    grams_as_purchased: Decimal | None  # g of `amount` of it with the refuse; None if not printed
    grams_of_one: Decimal | None  # g as purchased of one of it: what the book's measure would hold


@dataclass(frozen=True, kw_only=True)
class FoodSuggestion:
    """A food of the reference table whose name is near the ingredient's."""

    name: str
    description: str  # the source's words, which say the market form
    ndb_no: str
    refuse_pct: Decimal | None  # % of the weight as purchased; None where the source has none
    refuse_description: str  # what is thrown away; may be empty
    measures: tuple[FoodMeasure, ...]
    source: str  # "USDA SR28, NDB 11282"
    note: str = NOTE


def suggest_measures(ingredient_name: str, most: int = 3) -> list[FoodSuggestion]:
    """Return up to `most` reference foods with names like `ingredient_name`, nearest first.

    Weights are edible g and g as purchased = edible / (1 - refuse / 100). Source: USDA National
    Nutrient Database for Standard Reference, Release 28 (2015). Nothing is applied to the book.
    A food that comes in another form under this name is not offered: see `another_form`.

    >>> onion = suggest_measures("Onions")[0]
    >>> onion.source, onion.refuse_pct
    ('USDA SR28, NDB 11282', Decimal('10'))
    """
    asked = _words(ingredient_name)
    likeness = {
        ndb: max(_likeness(asked, name) for name in food["food"].split(";"))
        for ndb, food in _foods().items()
    }
    other = _other_forms(asked)
    near = [ndb for ndb, value in likeness.items() if value >= LEAST_LIKENESS and ndb not in other]
    # Of foods equally near, the plainer has the shorter description.
    near.sort(key=lambda ndb: (-likeness[ndb], len(_foods()[ndb]["description"]), ndb))
    return [_suggestion(ndb) for ndb in near[:most]]


def another_form(ingredient_name: str) -> str | None:
    """Return why the weights of a reference food do not hold for its form of this name, if so.

    >>> another_form("fine sea salt") is None, another_form("sea salt flakes") is None
    (True, False)
    """
    return next(iter(_other_forms(_words(ingredient_name)).values()), None)


def _other_forms(asked: tuple[str, ...]) -> dict[str, str]:
    """Return the NDB numbers of foods that a name means in another form, and why it matters."""
    return {
        row["ndb_no"]: row["why"]
        for row in read_table("other_forms.csv")
        if not set(asked).isdisjoint(row["words"].split(";"))
        and set(asked).isdisjoint(row["unless"].split(";"))
        and any(_words(name)[-1] in asked for name in _foods()[row["ndb_no"]]["food"].split(";"))
    }


def _suggestion(ndb_no: str) -> FoodSuggestion:
    food = _foods()[ndb_no]
    refuse = Decimal(food["refuse_pct"]) if food["refuse_pct"] else None
    return FoodSuggestion(
        name=food["food"].split(";")[0],
        description=food["description"],
        ndb_no=ndb_no,
        refuse_pct=refuse,
        refuse_description=food["refuse_description"],
        measures=tuple(_measure(row, refuse) for row in _measures()[ndb_no]),
        source=f"USDA SR28, NDB {ndb_no}",
    )


def _measure(row: Mapping[str, str], refuse_pct: Decimal | None) -> FoodMeasure:
    amount, edible = Decimal(row["amount"]), Decimal(row["grams_edible"])
    purchased = of_one = None
    if refuse_pct is not None:
        exact = Fraction(edible) / (1 - Fraction(refuse_pct) / 100)
        purchased = as_amount(exact, row["grams_edible"])
        of_one = as_amount(exact / Fraction(amount), row["grams_edible"])
    return FoodMeasure(
        amount=amount,
        measure=row["measure"],
        grams_edible=edible,
        grams_as_purchased=purchased,
        grams_of_one=of_one,
    )


@cache
def _foods() -> Mapping[str, Mapping[str, str]]:
    """Return NDB number -> row of foods.csv."""
    return {row["ndb_no"]: row for row in read_table("foods.csv")}


@cache
def _measures() -> Mapping[str, list[Mapping[str, str]]]:
    """Return NDB number -> its rows of food_measures.csv; none for a food without measures."""
    found: defaultdict[str, list[Mapping[str, str]]] = defaultdict(list)
    for row in read_table("food_measures.csv"):
        found[row["ndb_no"]].append(row)
    return found


@cache
def _words(name: str) -> tuple[str, ...]:
    """Return the words of a name in the singular: "Plum tomatoes" -> plum, tomato."""
    return tuple(_singular(word) for word in re.findall(r"[^\W_]+", name_key(name[:200])))


def _singular(word: str) -> str:
    for ending, singular in (("ies", "y"), ("oes", "o"), ("ches", "ch"), ("shes", "sh"), ("s", "")):
        if word.endswith(ending) and not word.endswith("ss") and len(word) > len(ending) + 1:
            return word[: -len(ending)] + singular
    return word


def _likeness(asked: tuple[str, ...], food_name: str) -> float:
    """Return 0 to about 1: the share of words, of both names, that the other name has too.

    The last word counts a little more: a cherry tomato is nearer to a tomato than to a cherry.
    """
    known = _words(food_name)
    if not asked or not known:
        return 0.0
    met = sum(max(_same(word, other) for other in known) for word in asked)
    return 2 * met / (len(asked) + len(known)) + 0.05 * _same(asked[-1], known[-1])


def _same(word: str, other: str) -> float:
    """Return 1 for the same word, 0.85 to 1 for a slip of spelling, else 0."""
    if word == other:
        return 1.0
    if min(len(word), len(other)) < 5:  # short words differ by a letter and mean another food
        return 0.0
    ratio = SequenceMatcher(None, word, other).ratio()
    return ratio if ratio >= 0.85 else 0.0
