"""Packs and recipe lines as cooks write them. Expected amounts are pencil sums, shown beside."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from time import process_time

import pytest

from pricing.errors import MeasureRefused
from pricing.measures.read import (
    SYSTEMS,
    IngredientFacts,
    Quantity,
    in_base,
    is_unit,
    missing_fact,
    read_number,
    read_pack,
    read_quantity,
)
from pricing.measures.units import all_units


def refusal(call: Callable[[], object]) -> str:
    """Return the sentence with which `call` refuses."""
    with pytest.raises(MeasureRefused) as refused:
        call()
    return str(refused.value)


# --- numbers


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("2", Fraction(2)),
        ("1.5", Fraction(3, 2)),
        (".5", Fraction(1, 2)),
        ("0.125", Fraction(1, 8)),
        ("1/2", Fraction(1, 2)),
        ("3/2", Fraction(3, 2)),
        ("1⁄2", Fraction(1, 2)),
        ("1 1/2", Fraction(3, 2)),
        ("  1   1/2 ", Fraction(3, 2)),
        ("½", Fraction(1, 2)),
        ("1½", Fraction(3, 2)),
        ("1 ½", Fraction(3, 2)),
        ("1\u00a0½", Fraction(3, 2)),
        ("2⅔", Fraction(8, 3)),
        ("⅒", Fraction(1, 10)),
        ("007", Fraction(7)),
    ],
)
def test_a_number_is_read_exactly(text: str, value: Fraction) -> None:
    assert read_number(text) == value


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("1,5", "a point before decimals"),
        ("1,500", "no mark between thousands"),
        ("1 500", "no mark between thousands"),
        ("1'500", "no mark between thousands"),
        ("1_500", "no mark between thousands"),
        ("-1", "Leave out the sign"),
        ("−1", "Leave out the sign"),
        ("+1", "Leave out the sign"),
        ("0", "a number above 0"),
        ("0/5", "a number above 0"),
        ("0.000", "a number above 0"),
        ("1-2", "not a range"),
        ("1 – 2", "not a range"),
        ("1-1/2", "1 1/2"),
        ("1e5", "without an exponent"),
        ("nan", "a number such as"),
        ("inf", "a number such as"),
        ("", "no number"),
        ("   ", "no number"),
        ("1/0", "a number such as"),
        ("1 3/2", "a number such as"),
        ("1/2/3", "a number such as"),
        ("½½", "a number such as"),
        ("1..5", "a number such as"),
        ("5.", "a number such as"),
        ("two", "a number such as"),
        ("²", "a number such as"),
        ("٣", "a number such as"),
        ("1000000000001", "not over 1,000,000,000,000"),
        ("9" * 201, "201 characters"),
        ("1\x00", "U+0000"),
        ("1\ufeff", "U+FEFF"),
    ],
)
def test_a_number_that_is_not_plain_is_refused_with_the_reason(text: str, says: str) -> None:
    sentence = refusal(lambda: read_number(text))
    assert says in sentence
    assert sentence.isprintable()


# --- packs


@pytest.mark.parametrize(
    ("text", "amount", "dimension"),
    [
        ("500 g", "500", "g"),
        ("500g", "500", "g"),
        ("  500   G ", "500", "g"),
        ("500\u00a0g", "500", "g"),
        ("1.5 kg", "1500", "g"),
        ("1½kg", "1500", "g"),
        ("1 1/2 kg", "1500", "g"),
        ("250 mg", "0.25", "g"),
        ("2 l", "2000", "ml"),
        ("2 Litres", "2000", "ml"),
        ("2 liters", "2000", "ml"),
        ("75 cl", "750", "ml"),
        ("1.5 dl", "150", "ml"),
        ("6 x 330 ml", "1980", "ml"),  # 6 × 330
        ("6x330ml", "1980", "ml"),
        ("6 × 330 ML", "1980", "ml"),
        ("4 x 6 x 330 ml", "7920", "ml"),  # 24 × 330
        ("12 x 1.5 l", "18000", "ml"),
        ("2 x ½ kg", "1000", "g"),
        ("1 lb", "453.59237", "g"),
        ("2 lbs.", "907.18474", "g"),  # 2 × 453.59237
        ("½ lb", "226.796185", "g"),
        ("4 ounces", "113.3980925", "g"),  # 4 × 28.349523125
        ("1 lb 4 oz", "566.9904625", "g"),  # 20 × 28.349523125
        ("1lb4oz", "566.9904625", "g"),
        ("1 lb. 4 oz.", "566.9904625", "g"),
        ("1 lb 4½ oz", "581.1652240625", "g"),  # 20.5 × 28.349523125
        ("1 lb .5 oz", "467.7671315625", "g"),  # 16.5 × 28.349523125
        ("2 x 1 lb 4 oz", "1133.980925", "g"),
        ("1 kg 500 g", "1500", "g"),
        ("12 each", "12", "each"),
        ("12 ea", "12", "each"),
        ("1 dozen", "12", "each"),
        ("2½ dozen", "30", "each"),
        ("1 dozen 2 each", "14", "each"),
        ("3 pairs", "6", "each"),
    ],
)
def test_a_pack_is_read(text: str, amount: str, dimension: str) -> None:
    expected = Quantity(amount=Decimal(amount), dimension=dimension, measure_key=None)
    assert read_pack(text, "metric") == expected


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("500", "'500' has no unit"),
        ("6 x 330", "'330' has no unit"),
        ("1 lb 4", "'4' has no unit"),
        ("", "no amount"),
        ("g", "'g' without a number"),
        ("dozen", "'dozen' without a number"),
        ("x", "'x' without a number"),
        ("1,5 kg", "a point before decimals"),
        ("1.500,5 g", "a point before decimals"),
        ("1 000 g", "no mark between thousands"),
        ("2 x 1,5 l", "a point before decimals"),
        ("-1 g", "Leave out the sign"),
        ("0 g", "a number above 0"),
        ("1e5 g", "without an exponent"),
        ("400-500 g", "not a range"),
        ("5 grms", "Nearest: grams"),
        ("330 ml x 6", "unit 'ml x'"),
        ("6 x", "unit 'x'"),
        ("2.5 x 100 g", "a whole number of items"),
        ("4 oz 1 lb", "the larger first"),
        ("1 lb 1 lb", "the larger first"),
        ("1 lb 4 ml", "units of one kind"),
        ("1 bunch 4 oz", "an own measure alone"),
        ("4 oz 1 bunch", "an own measure alone"),
        ("1 lb.5 oz", "unit 'lb.5 oz'"),
        ("999999999999 kg", "an amount between"),
        ("0.0000000000001 g", "an amount between"),
        ("500 g\x00", "U+0000"),
        ("500\u200bg", "U+200B"),
        ("5 \ud800", "\\ud800"),
        ("1" * 201, "201 characters"),
    ],
)
def test_a_pack_that_cannot_be_read_is_refused_with_the_reason(text: str, says: str) -> None:
    sentence = refusal(lambda: read_pack(text, "metric", ["bunch"]))
    assert says in sentence
    assert sentence.isprintable()


def test_a_megabyte_of_digits_spaces_or_commas_is_refused_at_once() -> None:
    """At once: in thousandths of a second of work. What looks back for each sign takes minutes."""
    for text in ("1" * 10**6, " " * 10**6, "1 " * 500_000, "x" * 10**6, "1 lb " * 200_000):
        started = process_time()
        assert "characters" in refusal(lambda text=text: read_pack(text, "uk"))  # type: ignore[misc]
        assert process_time() - started < 10
    for text in ("1 " * 100, "6 x " * 50, "1 lb " * 40, "½" * 200, "." * 200, "9/" * 100):
        started = process_time()
        refusal(lambda text=text: read_pack(text, "uk", ["bunch"]))  # type: ignore[misc]
        assert process_time() - started < 10


def test_a_third_is_kept_to_twelve_decimals_and_exact_amounts_in_full() -> None:
    assert read_pack("1/3 g", "metric").amount == Decimal("0.333333333333")
    assert read_pack("2/3 g", "metric").amount == Decimal("0.666666666667")
    assert str(read_pack("100000 g", "metric").amount) == "100000"
    assert str(read_pack("1.50 g", "metric").amount) == "1.5"


# --- cup, spoon, pint: the book's system decides, or a prefix


@pytest.mark.parametrize(
    ("text", "system", "ml"),  # millilitres as settled in the contract, times the number
    [
        ("1 cup", "metric", "250"),
        ("1 tbsp", "metric", "15"),
        ("1 tsp", "metric", "5"),
        ("1 pint", "uk", "568.26125"),
        ("1 fl oz", "uk", "28.4130625"),
        ("5 fl. oz.", "uk", "142.0653125"),
        ("1 tablespoon", "uk", "15"),
        ("2 teaspoons", "uk", "10"),
        ("1 cup", "us", "236.5882365"),
        ("1 tbsp", "us", "14.78676478125"),
        ("1 tsp", "us", "4.92892159375"),
        ("1 pint", "us", "473.176473"),
        ("2 Cups", "au", "500"),
        ("1 Tbsp", "au", "20"),
        ("1 tsp", "au", "5"),
        ("1 us cup", "uk", "236.5882365"),
        ("2 US cups", "uk", "473.176473"),
        ("1 metric cup", "uk", "250"),
        ("1 uk pint", "us", "568.26125"),
        ("3 au tbsp", "us", "60"),
        ("1 cup 2 tbsp", "metric", "280"),
    ],
)
def test_a_kitchen_measure_is_read_in_the_books_system_or_by_its_prefix(
    text: str, system: str, ml: str
) -> None:
    assert read_pack(text, system) == Quantity(amount=Decimal(ml), dimension="ml", measure_key=None)


@pytest.mark.parametrize(
    ("text", "system", "choices"),
    [
        ("1 cup", "uk", "metric cup, us cup, au cup"),
        ("1 uk cup", "metric", "metric cup, us cup, au cup"),
        ("1 pint", "metric", "uk pint, us pint"),
        ("1 pint", "au", "uk pint, us pint"),
        ("1 au pint", "us", "uk pint, us pint"),
        ("1 fl oz", "metric", "uk fl oz, us fl oz"),
        ("1 metric fl oz", "us", "uk fl oz, us fl oz"),
        ("1 quart", "au", "uk quart, us quart"),
    ],
)
def test_a_measure_without_a_set_size_is_refused_with_the_choices(
    text: str, system: str, choices: str
) -> None:
    assert choices in refusal(lambda: read_pack(text, system))


@pytest.mark.parametrize("text", ["1 T", "1 t", "1 us T", "1 t.", "1T"])
def test_one_letter_is_not_guessed_to_be_a_spoon(text: str) -> None:
    assert "tablespoon, a teaspoon" in refusal(lambda: read_pack(text, "us"))


def test_a_prefix_before_a_unit_that_is_the_same_everywhere_is_refused() -> None:
    assert "Leave out 'us'" in refusal(lambda: read_pack("1 us oz", "us"))


def test_an_unknown_measure_system_is_refused_with_the_four() -> None:
    assert "metric, uk, us, au" in refusal(lambda: read_pack("1 g", "imperial"))


def test_is_unit_goes_by_the_system() -> None:
    read = [("cup", "us"), ("cups", "metric"), ("us cup", "uk")]
    unread = [("cup", "uk"), ("bunch", "us"), ("", "us")]
    assert [is_unit(*each) for each in read + unread] == [True] * 3 + [False] * 3
    assert all(is_unit("kg", system) for system in SYSTEMS)


# --- an ingredient's own measures


@pytest.mark.parametrize(
    ("text", "own", "amount"),
    [
        ("1 bunch", "bunch", "1"),
        ("2½ Bunches", "bunch", "2.5"),
        ("3 large eggs", "large egg", "3"),
        ("2 berries", "berry", "2"),
        ("2 cups, chopped", "cup, chopped", "2"),
        ("6 x 1 bunch", "bunch", "6"),
        ("2 x large", "x large", "2"),
        ("2 x 400 g tin", "400 g tin", "2"),
        ("400 g tin", "400 g tin", "1"),
        ("4 leaves", "leaves", "4"),
    ],
)
def test_a_pack_may_be_in_an_own_measure(text: str, own: str, amount: str) -> None:
    expected = Quantity(amount=Decimal(amount), dimension="measure", measure_key=own)
    assert read_pack(text, "uk", [own]) == expected


def test_an_irregular_plural_is_only_read_when_the_measure_is_called_so() -> None:
    assert "unit 'leaves'" in refusal(lambda: read_pack("4 leaves", "uk", ["leaf"]))


def test_an_own_measure_wins_over_a_unit_of_the_same_name() -> None:
    cup = Quantity(amount=Decimal(2), dimension="measure", measure_key="cup")
    assert read_pack("2 cups", "us", ["cup"]) == cup
    assert read_quantity("2", "cup", "uk", ["cup"]) == cup
    assert read_quantity("2", "us cup", "uk", ["cup"]).dimension == "ml"


def test_a_measure_named_exactly_wins_over_the_plural_of_another() -> None:
    assert read_pack("4 leaves", "uk", ["leave", "leaves"]).measure_key == "leaves"


def test_a_plural_of_two_own_measures_is_refused() -> None:
    assert "could be box or boxe" in refusal(lambda: read_pack("2 boxes", "uk", ["box", "boxe"]))


# --- recipe lines


@pytest.mark.parametrize(
    ("quantity", "unit", "amount", "dimension"),
    [
        ("1½", "tbsp", "30", "ml"),  # 1.5 × 20
        ("1/2", "kg", "500", "g"),
        ("500g", "", "500", "g"),
        ("1 lb 4", "oz", "566.9904625", "g"),
        ("1", "lb 4 oz", "566.9904625", "g"),
        ("6 x 330", "ml", "1980", "ml"),
        ("3", "each", "3", "each"),
    ],
)
def test_a_recipe_line_is_read(quantity: str, unit: str, amount: str, dimension: str) -> None:
    expected = Quantity(amount=Decimal(amount), dimension=dimension, measure_key=None)
    assert read_quantity(quantity, unit, "au") == expected


@pytest.mark.parametrize(
    ("quantity", "unit", "says"),
    [
        ("2", "", "'2' has no unit"),
        ("", "g", "'g' without a number"),
        ("", "bunch", "no number"),
        ("12", "1/2 lb", "unit '1/2 lb'"),  # not 12½ lb
        ("1", "/2 lb", "unit '/2 lb'"),  # not ½ lb
        ("1", ".5 kg", "unit '.5 kg'"),  # not 1.5 kg
        ("1,5", "g", "a point before decimals"),
        ("2 bunches", "bunch", "a number such as"),
        ("2", "handfuls", "unit 'handfuls'"),
        ("2", "handfuls", "(bunch)"),
        ("2", "g" * 300, "300 characters"),
    ],
)
def test_a_recipe_line_that_cannot_be_read_is_refused(quantity: str, unit: str, says: str) -> None:
    assert says in refusal(lambda: read_quantity(quantity, unit, "uk", ["bunch"]))


# --- into the base unit


def facts(base: str, **known: Decimal) -> IngredientFacts:
    """Return facts with these and a bunch of 80 g."""
    return IngredientFacts(
        base=base,
        density_g_per_ml=known.get("density"),
        grams_each=known.get("each"),
        grams_by_measure={"bunch": Decimal(80)},
    )


ALL = {"density": Decimal("0.8"), "each": Decimal(50)}


@pytest.mark.parametrize(
    ("text", "base", "amount"),
    [
        ("100 g", "g", 100.0),
        ("100 ml", "g", 80.0),  # 100 × 0.8
        ("100 g", "ml", 125.0),  # 100 / 0.8
        ("3 each", "g", 150.0),  # 3 × 50
        ("150 g", "each", 3.0),
        ("3 each", "ml", 187.5),  # 3 × 50 / 0.8
        ("187.5 ml", "each", 3.0),
        ("2 bunches", "g", 160.0),
        ("2 bunches", "ml", 200.0),  # 160 / 0.8
        ("2 bunches", "each", 3.2),  # 160 / 50
    ],
)
def test_an_amount_goes_into_the_base_unit_by_way_of_grams(
    text: str, base: str, amount: float
) -> None:
    quantity = read_pack(text, "uk", ["bunch"])
    assert missing_fact(quantity, facts(base, **ALL)) is None
    assert in_base(quantity, facts(base, **ALL)) == amount


@pytest.mark.parametrize(
    ("text", "base", "known", "missing"),
    [
        ("100 ml", "g", {}, "density_g_per_ml"),
        ("100 g", "ml", {"each": Decimal(50)}, "density_g_per_ml"),
        ("3 each", "g", {"density": Decimal(1)}, "grams_each"),
        ("100 g", "each", {}, "grams_each"),
        ("3 each", "ml", {"density": Decimal(1)}, "grams_each"),
        ("100 ml", "each", {"each": Decimal(50)}, "density_g_per_ml"),
        ("100 ml", "each", {}, "density_g_per_ml and grams_each"),
        ("2 sprigs", "g", {}, "measure 'sprig'"),
        ("2 bunches", "ml", {}, "density_g_per_ml"),
        ("100 g", "g", {}, None),
        ("2 bunches", "g", {}, None),
    ],
)
def test_the_missing_fact_is_named(
    text: str, base: str, known: dict[str, Decimal], missing: str | None
) -> None:
    quantity = read_pack(text, "uk", ["bunch", "sprig"])
    assert missing_fact(quantity, facts(base, **known)) == missing
    if missing is None:
        assert in_base(quantity, facts(base, **known)) > 0
    else:
        assert missing in refusal(lambda: in_base(quantity, facts(base, **known)))


# --- the table itself


def test_no_spelling_means_two_units_in_one_system() -> None:
    everywhere = [s for u in all_units() if u.system == "any" for s in (u.name, *u.aliases)]
    for system in SYSTEMS:
        here = [s for u in all_units() if u.system == system for s in (u.name, *u.aliases)]
        assert len({*everywhere, *here}) == len(everywhere) + len(here)


def test_every_unit_has_a_size_a_dimension_a_source_and_lower_case_spellings() -> None:
    for unit in all_units():
        assert unit.factor > 0
        assert unit.dimension in ("g", "ml", "each")
        assert unit.system in ("any", *SYSTEMS)
        assert unit.source
        assert all(s == s.casefold() == s.strip() and s for s in (unit.name, *unit.aliases))
