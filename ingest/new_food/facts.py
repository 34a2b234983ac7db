"""Proposes the facts of a new ingredient, each with its source; nothing is applied unseen."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from ingest.matching.packs import pack_in_words
from ingest.matching.words import of_kind, plain
from ingest.new_food.food_fit import fitting_food, measure_of_kind
from ingest.offices.title_fit import STRONG, score_of
from pricing.errors import MeasureRefused
from pricing.measures.foods import FoodMeasure, FoodSuggestion
from pricing.measures.read import read_pack
from pricing.measures.units import find_unit
from pricing.names import name_key
from pricing.reference.table import read_table

_BASES = ("g", "ml", "each")  # of packs as often of one as of another, the first
_SOLD = {"g": "by weight", "ml": "by volume", "each": "by the piece"}
_VOLUME = re.compile(r"(quart|cup|fl oz|tbsp|tablespoon|tsp)(?: \(8 fl oz\))?")
# One piece, the likeliest first: a medium one, one that is called a fruit, one by the food's name.
_PIECE = (
    re.compile(r"(?:[a-z]+,? )?medium(?: whole)?(?: \(.*\))?", re.IGNORECASE),
    re.compile(r"fruit \(.*\)|fruit|bulb|head", re.IGNORECASE),
)
_PARTS = ("slice", "leaf", "spear", "stalk", "ear", "wedge")  # a medium one of these is no piece
_EGG = re.compile(r"large")  # as eggs are graded in the US; near a medium one elsewhere
_NUTS = "12"  # their refuse is shells, and kitchens buy them shelled


@dataclass(frozen=True, kw_only=True)
class Fact:
    """One fact proposed."""

    value: str
    source: str  # where it is from, in words
    sure: bool = True  # False: a habit, to be looked over before it counts


@dataclass(frozen=True, kw_only=True)
class FactsProposed:
    """What a new ingredient may be like; None is not known. Allergens are never proposed."""

    base: Fact | None  # g, ml or each
    density_g_per_ml: Fact | None
    grams_each: Fact | None  # g as purchased of one piece
    yield_pct: Fact | None  # % of the weight as purchased that is left to eat
    series: Fact | None
    category: Fact | None


def propose_facts(
    name: str,
    words: Sequence[str],
    packs: Sequence[str],
    *,
    measures: str,
    known_series: Mapping[str, str] | None = None,
) -> FactsProposed:
    """Return facts for a new ingredient: by how it is sold, and of the reference food it is.

    `words` are its descriptions, `packs` what was read or stated of its packs, `known_series` the
    titles of the book's official series by id. Density, weight and yield are those of USDA SR28,
    where one of its foods is this one for sure; nuts are taken to be bought without shells.

    >>> facts = propose_facts("onions", ["ONIONS BRN 1KG"], ["1 kg"], measures="uk")
    >>> facts.base.value, facts.yield_pct.value, facts.grams_each.value
    ('g', '90', '122')
    """
    food = fitting_food(name, words)
    category = _category(food) if food else None
    return FactsProposed(
        base=_base(words, packs, measures),
        density_g_per_ml=_density(food) if food else None,
        grams_each=_grams_each(food, name) if food else None,
        yield_pct=_yield(food) if food else None,
        series=_series(name, category, known_series or {}),
        category=category,
    )


def _base(words: Sequence[str], packs: Sequence[str], measures: str) -> Fact | None:
    """Return the unit that most packs are in."""
    given = list(packs)
    if not given:
        read = (pack_in_words(each, measures) for each in words)
        given = [found.pack for found in read if found is not None]
    sold: Counter[str] = Counter()
    for pack in given:
        try:
            sold[read_pack(pack, measures).dimension] += 1
        except MeasureRefused:
            continue
    if not sold:
        return _counted(words)
    base = max(_BASES, key=lambda each: (sold[each], -_BASES.index(each)))
    total = sum(sold.values())
    how_many = f"{sold[base]} of {total} packs" if total > 1 else f"its pack, {given[0]}"
    return Fact(value=base, source=f"sold {_SOLD[base]}: {how_many}")


def _counted(words: Sequence[str]) -> Fact | None:
    """Return the piece, of a description that says one and no pack: GARLIC BULB."""
    for each in words:
        for word in plain(name_key(each)).split():
            if word in of_kind("counted"):
                source = f"sold {_SOLD['each']}: '{word}' (common practice, no source)"
                return Fact(value="each", source=source)
    return None


def _density(food: FoodSuggestion) -> Fact | None:
    """Return g per ml by the largest plain measure of volume; as purchased, so without refuse."""
    if food.refuse_pct != 0:
        return None
    found = []
    for measure in food.measures:
        named = _VOLUME.fullmatch(measure.measure)
        if named and measure.grams_of_one is not None:
            millilitres = find_unit(named[1], "us").factor
            found.append((millilitres, measure))
    if not found:
        return None
    millilitres, measure = max(found, key=lambda each: each[0])
    held = Decimal(millilitres.numerator) / Decimal(millilitres.denominator)
    value = (measure.grams_of_one or Decimal(0)) / held
    return Fact(value=_short(value, "0.0001"), source=f"{food.source}: {_told(measure)}")


def _grams_each(food: FoodSuggestion, name: str) -> Fact | None:
    """Return g as purchased of one piece, by the measure that stands for one."""
    measure = _piece(food, measure_of_kind(food, name))
    if measure is None or measure.grams_of_one is None:
        return None
    return Fact(
        value=_short(measure.grams_of_one, "1" if measure.grams_of_one >= 20 else "0.1"),
        source=f"{food.source}: {_told(measure)}{_without_refuse(food)}",
    )


def _piece(food: FoodSuggestion, kind: str | None) -> FoodMeasure | None:
    single = [each for each in food.measures if not each.measure.lower().startswith(_PARTS)]
    if kind is not None:
        return next((each for each in single if each.measure == kind), None)
    own = re.compile(rf"{re.escape(food.name.split()[-1])}(?: \(.*\))?")
    patterns = (_EGG,) if food.name == "egg" else (*_PIECE, own)
    for pattern in patterns:
        for measure in single:
            if measure.amount == 1 and pattern.fullmatch(measure.measure):
                return measure
    return None


def _yield(food: FoodSuggestion) -> Fact | None:
    if food.refuse_pct is None or (food.ndb_no.startswith(_NUTS) and food.refuse_pct > 0):
        return None
    refuse = f"{food.refuse_pct} % refuse"
    thrown = f" ({food.refuse_description})" if food.refuse_description else ""
    return Fact(
        value=_short(100 - food.refuse_pct, "0.01"),
        source=f"{food.source}: {refuse}{thrown} of {food.description}",
    )


def _series(name: str, category: Fact | None, titles: Mapping[str, str]) -> Fact | None:
    """Return the official series whose title fits best, if it is no weak guess."""
    kind = category.value if category else None
    fits = [(*score_of(name, kind, title), series) for series, title in titles.items()]
    best = max(fits, key=lambda fit: (fit[0], fit[2]), default=None)
    if best is None or best[0] < STRONG:
        return None
    return Fact(value=best[2], source=f"the title {titles[best[2]]}: {best[1]}")


def _category(food: FoodSuggestion) -> Fact | None:
    for row in read_table("food_groups.csv", __package__):
        if food.ndb_no.startswith(row["digits"]):
            return Fact(value=row["category"], source=f"{food.source}: {row['group']}")
    return None


def _told(measure: FoodMeasure) -> str:
    return f"{measure.amount} {measure.measure} = {measure.grams_edible} g"


def _without_refuse(food: FoodSuggestion) -> str:
    return f", {food.refuse_pct} % refuse added" if food.refuse_pct else ""


def _short(value: Decimal, places: str) -> str:
    rounded = format(value.quantize(Decimal(places)), "f")
    return rounded.rstrip("0").rstrip(".") if "." in rounded else rounded
