"""Facts of a new ingredient are proposed with their source, or not at all."""

from __future__ import annotations

import csv
from dataclasses import fields
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ingest.new_food.facts import Fact, FactsProposed, propose_facts
from ingest.new_food.food_fit import fitting_food
from pricing.reference.table import data_lines

TABLE = Path(__file__).with_name("foods.csv")


def facts(name: str, *words: str, packs: tuple[str, ...] = ()) -> FactsProposed:
    return propose_facts(name, words, packs, measures="uk")


def value(fact: Fact | None) -> str | None:
    return None if fact is None else fact.value


def test_a_kitchen_word_is_its_food_or_none() -> None:
    rows = list(csv.DictReader(data_lines(TABLE.read_text("utf-8"))))
    wrong = []
    for row in rows:
        found = fitting_food(row["name"])
        if (found.ndb_no if found else "") != row["ndb_no"]:
            wrong.append(f"{row['name']}: {row['ndb_no'] or 'none'}, found {found and found.name}")
    assert len(rows) >= 40
    assert wrong == []


@pytest.mark.parametrize(
    ("packs", "base"),
    [
        (("500 g", "1 kg"), "g"),
        (("2 x 330 ml", "1 l"), "ml"),
        (("1 dozen", "6 each", "500 g"), "each"),
        (("500 g", "500 ml"), "g"),
        ((), None),
        (("one", "two"), None),
    ],
)
def test_the_base_unit_is_how_it_is_sold(packs: tuple[str, ...], base: str | None) -> None:
    assert value(facts("quinoa", packs=packs).base) == base


def test_without_packs_the_base_unit_is_read_from_the_descriptions() -> None:
    found = facts("quinoa", "ZORVIK QUINOA 500G", "Quinoa").base
    assert found == Fact(value="g", source="sold by weight: its pack, 500 g")


def test_a_density_is_that_of_the_largest_measure() -> None:
    # SR28 01077: 1 quart = 976 g; a US quart is 946.352946 ml: 976 / 946.352946 = 1.03133
    found = facts("whole milk").density_g_per_ml
    assert found == Fact(value="1.0313", source="USDA SR28, NDB 01077: 1 quart = 976 g")


def test_a_piece_weighs_what_it_does_before_it_is_trimmed() -> None:
    # SR28 11282: medium = 110 g edible, 10 % refuse: 110 / 0.9 = 122.2
    found = facts("onions").grams_each
    assert found is not None
    assert found.value == "122"
    assert found.source == (
        'USDA SR28, NDB 11282: 1 medium (2-1/2" dia) = 110 g, 10 % refuse added'
    )


@pytest.mark.parametrize(
    ("name", "grams"),
    [
        ("eggs", "57"),  # 01123: large = 50 g, 12 % shell: 50 / 0.88 = 56.8
        ("cherry tomatoes", "19"),  # 11529: cherry = 17 g, 9 %: 17 / 0.91 = 18.7
        ("tomatoes", "135"),  # 11529: medium whole = 123 g, 9 %: 123 / 0.91 = 135.2
        ("cucumber", "310"),  # 11205: cucumber = 301 g, 3 %: 301 / 0.97 = 310.3
        ("leeks", "202"),  # 11246: leek = 89 g, 56 %: 89 / 0.44 = 202.3
        ("asparagus", None),  # spears only
        ("garlic", None),  # a clove is no bulb
    ],
)
def test_what_one_piece_is_depends_on_the_food(name: str, grams: str | None) -> None:
    found = value(facts(name).grams_each)
    assert found is None if grams is None else abs(float(found or 0) - float(grams)) < 0.5


def test_the_yield_is_what_the_refuse_leaves() -> None:
    # SR28 11246: 56 % refuse
    found = facts("leeks").yield_pct
    assert found is not None
    assert found.value == "44"
    assert found.source.startswith("USDA SR28, NDB 11246: 56 % refuse")


def test_nuts_are_bought_without_the_shells_that_are_their_refuse() -> None:
    assert facts("almonds").yield_pct is None  # SR28 12061: 60 %, the shells


def test_how_it_is_kept_makes_it_another_food() -> None:
    assert facts("spinach").yield_pct is not None
    assert facts("spinach", "SPINACH FROZEN 900G").yield_pct is None
    tuna = fitting_food("tuna", ["TUNA CHUNKS TIN 145G"])
    assert tuna is not None
    assert tuna.ndb_no == "15121"


def test_a_series_is_named_when_its_title_fits_and_not_for_a_weak_guess() -> None:
    titles = {"zz:1": "Milk", "zz:2": "Fuel oil", "zz:3": "Food"}
    found = propose_facts("whole milk", [], [], measures="uk", known_series=titles).series
    assert found is not None
    assert (found.value, found.source.startswith("the title Milk: ")) == ("zz:1", True)
    assert propose_facts("quinoa", [], [], measures="uk", known_series=titles).series is None


def test_allergens_are_never_proposed() -> None:
    assert not any("allergen" in field.name for field in fields(FactsProposed))


@given(name=st.text(max_size=60), words=st.lists(st.text(max_size=60), max_size=3))
def test_any_name_has_facts_or_none(name: str, words: list[str]) -> None:
    found = propose_facts(name, words, words, measures="us", known_series={"zz:1": "Milk"})
    for fact in (found.density_g_per_ml, found.grams_each, found.yield_pct):
        assert fact is None or float(fact.value) > 0
