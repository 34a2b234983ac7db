"""A recipe line becomes the quantity and unit of our own columns; what was decided is said."""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest

import ingest.recipe_files
from ingest.recipe_files.amount import line_amount
from ingest.recipe_files.duration import read_duration
from ingest.recipe_files.portions import read_portions
from ingest.recipe_files.small_amount import small_amount
from ingest.recipes.line import read_recipe_line
from pricing.measures.read import SYSTEMS, read_quantity
from pricing.reference.table import data_lines

SMALL = Path(ingest.recipe_files.__file__).with_name("small_amounts.csv")


@pytest.mark.parametrize(
    ("line", "wanted", "said"),
    [
        ("200 g oats", "200 g", ()),
        ("1/3 cup oil", "1/3 cup", ()),
        ("1 1/3 cups oil", "1 1/3 cup", ()),
        ("2-3 turnips", "2.5 each", ("2 to 3 each: the middle, 2.5",)),
        ("2 (14-ounce) cans hominy", "28 oz", ("2 × can of 14 oz",)),  # 2 x 14
        ("3 x 120g trout fillets", "360 g", ("3 × 120 g",)),
        ("1-2 x 400 g tins beans", "600 g", None),  # 1.5 x 400
        ("½ cup plus 1 tbsp whey", "0.5625 cup", ("0.5 cup plus 1 tbsp: 0.5625 cup",)),  # 8/16 + 1
        ("1 cup minus 2 tbsp flour", "0.875 cup", ("1 cup minus 2 tbsp: 0.875 cup",)),
        ("1 cup plus 20 g sugar", "1 cup", ("'plus 20 g' is not counted",)),
        ("2 leeks (about 300 g)", "300 g", ("300 g is taken; it says 2 each, too",)),
        ("1 lb 2 oz / 500 g beef", "1.125 lb", ("1.125 lb is taken; it says 500 g, too",)),
        ("1 cup (250 ml) milk", "250 ml", ("250 ml is taken; it says 1 cup, too",)),
        ("50 g butter or oil", "50 g", ("'butter' is taken, not 'oil'",)),
        ("50 g butter (optional)", "50 g", ("optional; it is counted",)),
        ("juice of 1 lemon", "1 each", ("the juice counts as the whole",)),
        ("2 tbsp oil, plus extra to fry", "2 tbsp", ("'plus extra to fry' is not counted",)),
        ("a knob of butter", "1 knob", ()),
    ],
)  # fmt: skip
def test_a_line_takes_one_amount(line: str, wanted: str, said: tuple[str, ...] | None) -> None:
    amount = line_amount(read_recipe_line(line))
    assert amount is not None
    assert f"{amount.quantity} {amount.unit}" == wanted
    if said is not None:
        assert amount.said == said
    measures = ("knob",) if amount.unit == "knob" else ()
    assert read_quantity(amount.quantity, amount.unit, "us", measures).amount > 0


def test_what_is_added_counts_in_the_books_own_measures() -> None:
    # 250 ml + 2 x 20 ml of Australia = 290 ml = 1.16 cups; 16 tbsp make a US cup
    line = "1 cup plus 2 tbsp whey"
    for measures, cups in (("au", "1.16"), ("us", "1.125")):
        amount = line_amount(read_recipe_line(line, measures), measures)
        assert amount is not None
        assert amount.quantity == cups


def test_a_line_without_a_number_has_no_amount() -> None:
    assert line_amount(read_recipe_line("salt, to taste")) is None


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("2 handfuls of chard", ("60", "g")),  # 2 x 30
        ("a knob of butter", ("15", "g")),
        ("1–2 pinches of mace", ("0.45", "g")),  # 1.5 x 0.3
        ("salt and pepper to taste", ("1", "g")),
        ("butter, for greasing", ("5", "g")),
        ("a little oil", ("5", "g")),
        ("freshly ground black pepper", ("0.5", "g")),
        ("1 knob ginger (20 g)", None),
        ("2 leeks", None),
        ("tofu", None),
    ],
)
def test_a_small_amount_is_taken_from_the_table_and_says_so(
    line: str, wanted: tuple[str, str] | None
) -> None:
    found = small_amount(read_recipe_line(line), line)
    assert (found and found[:2]) == wanted
    if found:
        assert "names no weight" in found[2]
        assert "common practice, no source" in found[2]


def test_every_small_amount_is_a_unit_that_all_books_read() -> None:
    rows = list(csv.DictReader(data_lines(SMALL.read_text("utf-8"))))
    assert len(rows) > 40
    for row in rows:
        for system in SYSTEMS:
            assert read_quantity(row["quantity"], row["unit"], system).amount > 0
        assert row["source"] == "common practice, no source"


@pytest.mark.parametrize(
    ("text", "portions"),
    [
        ("4", 4), ("Serves 4–6", 5), ("Makes 12 muffins", 12), ("für 4 Personen", 4),
        ("pour 6 personnes", 6), ("4 porciones", 4), ("4 personer", 4), ("4 porzioni", 4),
        ("voor 4 personen", 4), ("4 porcje", 4), ("4 portioner", 4), ("Für vier Personen", 4),
        ("Makes 2 dozen", 24), ("Makes 1 (9-inch) cake; serves 8", 8), ("one 9-inch cake", 1),
        ("16 (2-inch) squares", 16), ("Servings 2-3", Fraction(5, 2)), ("1 litre", None),
        ("30 minutes", None), ("a crowd", None), ("2 l, for 8 people", 8),
    ],
)  # fmt: skip
def test_portions_are_read_in_all_spellings(text: str, portions: Fraction | None) -> None:
    assert read_portions(text).portions == portions


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("PT1H30M", 90), ("P0DT45M", 45), ("PT90M", 90), ("PT1H30", 90), ("PT1.5H", 90),
        ("PT1,5H", 90), ("P1DT1H", 1500), ("PT90S", 2), ("PT", None), ("P", None), ("PT0M", None),
        ("P900Y", None), ("90", None), ("1H", None),
    ],
)  # fmt: skip
def test_durations_of_iso_8601_are_minutes(text: str, minutes: int | None) -> None:
    assert read_duration(text) == minutes  # PT90S: a minute and a half, to the even minute
