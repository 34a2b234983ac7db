"""Every factor of units.csv beside the figure an office or a law prints, and beside pint."""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest

from pricing.measures.units import all_units

FACTORS = {(unit.system, unit.name): unit.factor for unit in all_units()}

# Sources. SI: BIPM SI brochure. WMA: UK Weights and Measures Act 1985, Schedule 1 (pound 0.45359237
# kg exactly, ounce 1/16 pound; gallon 4.54609 dm3, pint 1/8 and fluid ounce 1/20 of a pint). HB44:
# NIST Handbook 44, Appendix C (gallon 231 cubic inches, cup 8 fl oz, both exactly). SP430: NIST SP
# 430, Household Weights and Measures (1 fl oz = 2 tablespoons = 6 teaspoons). AU: NSW Health
# conversion chart (cup 250 ml, tablespoon 20 ml, teaspoon 5 ml). 15/5: secondary pages only.
PUBLISHED = [
    ("any", "mg", "0.001", "SI"),
    ("any", "g", "1", "SI"),
    ("any", "kg", "1000", "SI"),
    ("any", "oz", "28.349523125", "WMA: 453.59237 / 16"),
    ("any", "lb", "453.59237", "WMA"),
    ("any", "ml", "1", "SI"),
    ("any", "cl", "10", "SI"),
    ("any", "dl", "100", "SI"),
    ("any", "l", "1000", "SI"),
    ("any", "each", "1", "a count"),
    ("any", "pair", "2", "a count"),
    ("any", "dozen", "12", "a count"),
    ("any", "kwh", "1", "a count of one kWh"),
    ("us", "therm", "263701/9000", "SP811: 1.054804E+08 J ÷ 3.6E+06 J"),
    ("metric", "cup", "250", "from memory; AU prints the same"),
    ("metric", "tbsp", "15", "15/5"),
    ("metric", "dessertspoon", "10", "common practice, no source"),
    ("metric", "tsp", "5", "15/5"),
    ("uk", "gallon", "4546.09", "WMA"),
    ("uk", "quart", "1136.5225", "WMA: gallon / 4"),
    ("uk", "pint", "568.26125", "WMA: gallon / 8"),
    ("uk", "fl oz", "28.4130625", "WMA: pint / 20"),
    ("uk", "tbsp", "15", "15/5"),
    ("uk", "dessertspoon", "10", "common practice, no source"),
    ("uk", "tsp", "5", "15/5"),
    ("us", "gallon", "3785.411784", "HB44: 231 cubic inches of 16.387064 ml"),
    ("us", "quart", "946.352946", "HB44"),
    ("us", "pint", "473.176473", "HB44"),
    ("us", "cup", "236.5882365", "HB44"),
    ("us", "fl oz", "29.5735295625", "HB44"),
    ("us", "tbsp", "14.78676478125", "SP430"),
    ("us", "tsp", "4.92892159375", "SP430"),
    ("au", "cup", "250", "AU"),
    ("au", "tbsp", "20", "AU"),
    ("au", "dessertspoon", "10", "common practice, no source"),
    ("au", "tsp", "5", "AU"),
]


@pytest.mark.parametrize(("system", "unit", "factor", "source"), PUBLISHED)
def test_a_factor_is_the_published_one(system: str, unit: str, factor: str, source: str) -> None:
    assert FACTORS[system, unit] == Fraction(factor), source


def test_the_table_holds_the_published_units_and_no_others() -> None:
    assert set(FACTORS) == {(system, unit) for system, unit, _, _ in PUBLISHED}


def test_us_measures_follow_from_231_cubic_inches() -> None:
    # NIST Handbook 44, Appendix C; the inch is 25.4 mm exactly.
    gallon = 231 * Fraction("2.54") ** 3
    assert FACTORS["us", "gallon"] == gallon
    assert FACTORS["us", "cup"] == gallon / 16 == 8 * FACTORS["us", "fl oz"]
    # NIST SP 430: 1 fl oz = 2 tablespoons = 6 teaspoons.
    assert FACTORS["us", "fl oz"] == 2 * FACTORS["us", "tbsp"] == 6 * FACTORS["us", "tsp"]


def test_uk_measures_follow_from_the_gallon_of_the_act() -> None:
    # Weights and Measures Act 1985, Schedule 1: 4.54609 dm3; pint 1/8, fl oz 1/20 pint.
    assert FACTORS["uk", "pint"] == Fraction("4546.09") / 8
    assert FACTORS["uk", "fl oz"] == Fraction("4546.09") / 160
    assert FACTORS["uk", "quart"] == Fraction("4546.09") / 4


def test_the_us_cup_is_the_measuring_cup_and_not_the_one_of_nutrition_labels() -> None:
    # 21 CFR 101.9(b)(5)(viii): on labels tsp 5, tbsp 15, cup 240, fl oz 30 ml; oz 28 g.
    labels = {"tsp": 5, "tbsp": 15, "cup": 240, "fl oz": 30}
    for unit, on_labels in labels.items():
        exact = FACTORS["us", unit]
        assert exact != on_labels
        assert on_labels / exact - 1 == pytest.approx(0.0144, abs=0.0001)  # all 1.44 % larger
    assert FACTORS["any", "oz"] / 28 - 1 == pytest.approx(0.0125, abs=0.0001)


def test_an_australian_tablespoon_is_about_a_third_more_than_an_american_one() -> None:
    # 20 / 14.78676478125 = 1.3526: why a bare tbsp is read by the book's system only.
    assert FACTORS["au", "tbsp"] / FACTORS["us", "tbsp"] == pytest.approx(1.3526, abs=0.0001)


# pint (an independent unit library) is given its own names, never text of a user's.
PINT_NAMES = {
    ("any", "mg"): "milligram",
    ("any", "g"): "gram",
    ("any", "kg"): "kilogram",
    ("any", "oz"): "ounce",
    ("any", "lb"): "pound",
    ("any", "ml"): "milliliter",
    ("any", "cl"): "centiliter",
    ("any", "dl"): "deciliter",
    ("any", "l"): "liter",
    ("uk", "gallon"): "imperial_gallon",
    ("uk", "quart"): "imperial_quart",
    ("uk", "pint"): "imperial_pint",
    ("uk", "fl oz"): "imperial_fluid_ounce",
    ("us", "gallon"): "gallon",
    ("us", "quart"): "quart",
    ("us", "pint"): "pint",
    ("us", "cup"): "cup",
    ("us", "fl oz"): "fluid_ounce",
    ("us", "tbsp"): "tablespoon",
    ("us", "tsp"): "teaspoon",
    ("us", "therm"): "US_therm",
}
NOT_IN_PINT = {
    ("any", "each"),
    ("any", "pair"),
    ("any", "dozen"),
    ("any", "kwh"),  # there it is an energy; here a count
    *(
        (system, unit)
        for system in ("metric", "uk", "au")
        for unit in ("tbsp", "dessertspoon", "tsp")
    ),
    ("metric", "cup"),
    ("au", "cup"),
}


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry[Fraction]:
    """Return pint's own units, in exact fractions."""
    return pint.UnitRegistry(non_int_type=Fraction)


@pytest.mark.parametrize(("system", "unit"), sorted(PINT_NAMES))
def test_a_factor_equals_pints(
    registry: pint.UnitRegistry[Fraction], system: str, unit: str
) -> None:
    to = "gram" if unit in ("mg", "g", "kg", "oz", "lb") else "milliliter"
    to = "kilowatt_hour" if unit == "therm" else to
    theirs = registry.Quantity(Fraction(1), PINT_NAMES[system, unit]).to(to).magnitude
    assert theirs == FACTORS[system, unit]


def test_every_unit_is_either_compared_with_pint_or_known_to_be_missing_there() -> None:
    assert set(FACTORS) == set(PINT_NAMES) | NOT_IN_PINT
    assert not set(PINT_NAMES) & NOT_IN_PINT
