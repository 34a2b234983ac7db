"""Reference foods are offered by name, with both weights and where they come from."""

from __future__ import annotations

from decimal import Decimal

import pytest

from pricing.measures.foods import (
    FoodMeasure,
    FoodSuggestion,
    another_form,
    suggest_measures,
)
from tests.terminal import run


def measure(food: FoodSuggestion, name: str) -> FoodMeasure:
    """Return the one measure of `food` called `name`."""
    (found,) = [each for each in food.measures if each.measure == name]
    return found


@pytest.mark.parametrize(
    ("ingredient", "ndb_no"),  # NDB numbers: USDA SR28 FOOD_DES.txt
    [
        ("onion", "11282"),
        ("Onions", "11282"),
        ("ONION, chopped", "11282"),
        ("spring onions", "11291"),
        ("Leeks", "11246"),
        ("tomatoes", "11529"),
        ("cherry tomatoes", "11529"),
        ("aubergine", "11209"),
        ("zucchini", "11477"),
        ("brocoli", "11090"),
        ("free-range eggs", "01123"),
        ("egg yolks", "01125"),
        ("butter", "01145"),
        ("peanut butter", "16098"),
        ("extra virgin olive oil", "04053"),
        ("plain flour", "20081"),
        ("strawberries", "09316"),
        ("potatoes", "11352"),
        ("pears", "09252"),
    ],
)
def test_the_nearest_food_comes_first(ingredient: str, ndb_no: str) -> None:
    assert suggest_measures(ingredient)[0].ndb_no == ndb_no


@pytest.mark.parametrize("name", ["", "   ", "?!", "xylophone", "\x00", "x" * 10**6])
def test_nothing_is_offered_for_a_name_that_is_no_food(name: str) -> None:
    assert suggest_measures(name) == []


def test_no_more_foods_than_asked_for_are_offered() -> None:
    assert len(suggest_measures("flour", 2)) == 2
    assert suggest_measures("flour", 0) == []


def test_a_pear_is_not_offered_as_a_pea() -> None:
    assert "09252" not in [food.ndb_no for food in suggest_measures("pea", 10)]


def test_as_purchased_weight_is_edible_weight_with_the_refuse_put_back() -> None:
    onion = suggest_measures("onion")[0]
    medium = measure(onion, 'medium (2-1/2" dia)')
    assert onion.refuse_pct == Decimal(10)
    assert medium.grams_edible == Decimal(110)
    # 110 / 0.9 = 122.222…, kept to 12 decimals
    assert medium.grams_as_purchased == Decimal("122.222222222222")


def test_grams_of_one_divides_a_measure_printed_for_several() -> None:
    rings = measure(suggest_measures("onion")[0], "rings")
    assert (rings.amount, rings.grams_edible) == (Decimal(10), Decimal(60))
    assert rings.grams_of_one == Decimal("6.666666666667")  # 60 / 0.9 / 10


def test_every_suggestion_says_where_it_is_from_and_warns_of_the_market_form() -> None:
    almond = suggest_measures("almonds")[0]
    assert almond.source == "USDA SR28, NDB 12061"
    assert (almond.refuse_pct, almond.refuse_description) == (Decimal(60), "Shells")
    assert "one market form" in almond.note


TABLE_SALT = "02047"


@pytest.mark.parametrize(
    "name",
    ["flaky sea salt", "flake salt", "sea salt flakes", "kosher salt", "coarse salt", "Sea Salt"],
)
def test_the_weight_of_table_salt_is_not_offered_for_another_salt(name: str) -> None:
    assert TABLE_SALT not in [food.ndb_no for food in suggest_measures(name, 10)]
    assert "less than a spoon of table salt" in (another_form(name) or "")
    done = run("weights", name)
    assert (done.returncode, "Weigh a spoon of yours" in " ".join(done.stdout.split())) == (1, True)
    assert "292" not in done.stdout  # g to a cup of table salt, USDA SR28


@pytest.mark.parametrize("name", ["salt", "table salt", "fine sea salt"])
def test_salt_that_pours_has_the_weight_of_table_salt(name: str) -> None:
    assert suggest_measures(name)[0].ndb_no == TABLE_SALT
    assert another_form(name) is None


def test_the_other_forms_are_of_salt_alone() -> None:
    assert another_form("chilli flakes") is None
    assert another_form("sea bass") is None
