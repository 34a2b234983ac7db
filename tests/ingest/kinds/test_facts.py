"""Facts, measures, swaps, printed figures and series are stored as written and found again."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from pricing.book.connect import Book
from tests.kitchen import load
from tests.loading import DISHES, INGREDIENTS, MEASURES, ask

SWAPS = "ingredient,substitute,ratio,note\nleek,pearl barley,1.5,\nwhole milk,syrup,1,sweet"
PRINTED = """
    dish,version,published_on,cost_per_portion,currency,where,note
    leek bake,1,2013-03-01,1.25,USD,spring column,
    leek bake,1,2013-03-01,1.25,USD,autumn column,
"""
INDEX = """
    series,month,value,title,parent,classification,seasonally_adjusted,released_on
    town:tea,2020-01,100,Tea,us-bls:SAF11,own,no,2020-02-12
    town:tea,2020-02,101.5,,,,,2020-03-12
    town:tea,2020-01,100.2,Tea,,,no,2020-03-12
"""


def test_facts_are_stored_as_written(book: Book) -> None:
    assert ask(
        book,
        "SELECT name, category, base, density_g_per_ml, grams_each, yield_pct, series, allergens, "
        "aliases FROM ingredient_now ORDER BY name_key",
    ) == [
        ("egg", "dairy", "each", None, Decimal(57), None, None, ["egg"], []),
        ("leek", "vegetable", "g", None, Decimal(210), Decimal(76), "us-bls:SEFL04", [], ["leeks"]),
        ("pearl barley", None, "g", None, None, None, None, ["barley", "gluten"], ["barley"]),
        ("syrup", None, "ml", None, None, None, None, None, []),
        ("whole milk", "dairy", "ml", Decimal("1.03"), None, None, "us-bls:SEFJ01", ["milk"], []),
    ]


def test_line_and_raw_row_are_kept(book: Book) -> None:
    assert ask(book, "SELECT line, raw FROM measure") == [(2, "leek,bunch,640,kitchen scales")]
    assert ask(book, "SELECT kind, file_name, added, already FROM load_batch WHERE batch = 3") == [
        ("measures", "measures.csv", 1, 0)
    ]


@pytest.mark.parametrize(
    ("kind", "text", "count"),
    [
        ("ingredients", INGREDIENTS, 5),
        ("measures", MEASURES, 1),
        ("dishes", DISHES, 4),
        ("swaps", SWAPS, 2),
        ("printed", PRINTED, 2),
        ("index", INDEX, 3),
    ],
)
def test_a_file_loaded_again_adds_nothing(book: Book, kind: str, text: str, count: int) -> None:
    load(book, kind, text)
    before = ask(book, "SELECT max(batch) FROM load_batch")
    again = load(book, kind, text)
    assert (again.load, again.added, again.already, again.problems) == (None, 0, count, ())
    assert ask(book, "SELECT max(batch) FROM load_batch") == before


TWICE = {  # a header, and a row that a file holds twice
    "ingredients": "ingredient,base\nkale,g\nkale,g",
    "measures": "ingredient,measure,grams\negg,tray,1710\negg,tray,1710",
    "prices": "ingredient,date,price,currency,pack\nleek,2024-05-02,2,USD,1 kg\n"
    "leek,2024-05-02,2,USD,1 kg",
    "swaps": "ingredient,substitute,ratio\nleek,pearl barley,1.5\nleek,pearl barley,1.5",
    "printed": "dish,version,published_on,cost_per_portion,currency\n"
    "leek bake,1,2013-03-01,1.25,USD\nleek bake,1,2013-03-01,1.25,USD",
    "index": "series,month,value\ntown:tea,2020-01,100\ntown:tea,2020-01,100",
}


@pytest.mark.parametrize("kind", TWICE)
def test_a_row_that_a_file_holds_twice_is_added_once_and_counted_as_already_there(
    book: Book, kind: str
) -> None:
    first = load(book, kind, TWICE[kind])
    assert (first.added, first.already, first.problems) == (1, 1, ())
    again = load(book, kind, TWICE[kind])
    assert (again.load, again.added, again.already, again.problems) == (None, 0, 2, ())


@pytest.mark.parametrize("kind", [*TWICE, "dishes"])
def test_a_dry_run_counts_and_stores_nothing(book: Book, kind: str) -> None:
    before = book.path.read_bytes()
    text = TWICE.get(kind, DISHES.replace("stock,1,", "broth,1,"))
    report = load(book, kind, text, dry_run=True)
    assert (report.load, report.added, report.problems) == (None, 1, ())
    assert book.path.read_bytes() == before


def test_the_same_facts_in_other_words_are_the_same(book: Book) -> None:
    report = load(
        book,
        "ingredients",
        """
        Allergens, BASE ,ingredient,aliases
        Gluten;BARLEY,G,Pearl  Barley,Barley; pearl barley
        """,
    )
    assert (report.added, report.already) == (0, 1)


def test_a_column_that_is_absent_says_nothing_of_the_facts(book: Book) -> None:
    report = load(
        book,
        "ingredients",
        "ingredient,base,density_g_per_ml\nwhole milk,ml,1.032\n",
        replace=True,
    )
    assert report.added == 1
    assert ask(
        book,
        "SELECT category, density_g_per_ml, series, allergens FROM ingredient_now "
        "WHERE name = 'whole milk'",
    ) == [("dairy", Decimal("1.032"), "us-bls:SEFJ01", ["milk"])]


def test_replaced_facts_change_the_derived_prices_of_that_ingredient(book: Book) -> None:
    """4 USD for 1 kg of milk: at 1.03 g per ml that is 1000/1.03 ml, at 1.25 it is 800 ml."""
    load(book, "prices", "ingredient,date,price,currency,pack\nwhole milk,2024-05-02,4,USD,1 kg")
    [(before,)] = ask(book, "SELECT unit_price FROM source_day")
    load(book, "ingredients", "ingredient,base,density_g_per_ml\nwhole milk,ml,1.25", replace=True)
    [(after,)] = ask(book, "SELECT unit_price FROM source_day")
    assert before == pytest.approx(4 / (1000 / 1.03), rel=1e-12)
    assert after == pytest.approx(4 / 800, rel=1e-12)


def test_a_replaced_measure_changes_the_derived_prices(book: Book) -> None:
    load(book, "prices", "ingredient,date,price,currency,pack\nleek,2024-05-02,1.6,USD,1 bunch")
    load(book, "measures", "ingredient,measure,grams\nleek,bunch,500", replace=True)
    assert ask(book, "SELECT unit_price FROM source_day") == [(pytest.approx(1.6 / 500),)]
    assert ask(book, "SELECT source FROM measure_now") == [("kitchen scales",)]


def test_a_series_that_the_book_does_not_have_yet_is_a_remark(book: Book) -> None:
    report = load(book, "ingredients", "ingredient,base,series\nkale,g,us-bls:SEFL4")
    assert report.added == 1
    assert report.remarks[0].startswith("The book has no series 'us-bls:SEFL4' yet;")
    assert "Nearest: us-bls:SEFL" in report.remarks[0]


def test_a_column_that_is_not_declared_is_left_out_with_a_remark(book: Book) -> None:
    report = load(book, "measures", "ingredient,measure,grams,sorce,reason\negg,tray,1710,me,\n")
    assert report.added == 1
    assert report.remarks == ("The column 'sorce' is not read. Did you mean 'source'?",)


def test_a_measure_that_is_called_like_a_unit_is_remarked(book: Book) -> None:
    report = load(book, "measures", "ingredient,measure,grams\nleek,cup,90\nleek,tray,900")
    assert report.added == 2
    assert report.remarks == ("'cup' of leek now means this measure, not the unit of that name.",)


def test_printed_figures_that_differ_only_in_where_are_two(book: Book) -> None:
    assert load(book, "printed", PRINTED).added == 2


def test_two_amounts_of_one_dish_and_day_are_told_and_both_stay(book: Book) -> None:
    head = "dish,version,published_on,cost_per_portion,currency,where\n"
    same = "Leek bake,1,2013-03-01,about 1.25,USD,book\n"
    others = "leek bake,1,2013-03-02,2,USD,\nleek bake,1,2013-03-01,1,EUR,\n"  # another day, money
    assert load(book, "printed", f"{head}leek bake,1,2013-03-01,1.25,USD,\n{same}").remarks == ()
    text = f"{head}{others}leek bake,1,2013-03-01,1.4,USD,\nleek bake,1,2013-03-01,1.255,USD,\n"
    report = load(book, "printed", text)
    assert (report.added, report.remarks) == (
        4,
        (
            "Printed for 'leek bake', version 1, on 2013-03-01: 1.25, 1.255 and 1.4 USD. All "
            "are in force; if one is a mistake, undo the load that brought it.",
        ),
    )
    assert load(book, "printed", text).remarks == ()  # they are in the book already
    assert ask(book, "SELECT count(*) FROM printed_now WHERE currency = 'USD'") == [(5,)]


def test_a_later_release_of_a_month_counts_and_the_earlier_one_is_kept(book: Book) -> None:
    assert load(book, "index", INDEX).added == 3
    assert ask(
        book, "SELECT month, value FROM series_value_now WHERE series = 'town:tea' ORDER BY month"
    ) == [(date(2020, 1, 1), 100.2), (date(2020, 2, 1), 101.5)]
    assert ask(
        book,
        "SELECT title, parent, classification, seasonally_adjusted FROM series_now "
        "WHERE series = 'town:tea'",
    ) == [("Tea", "us-bls:SAF11", "own", False)]


def test_a_new_month_of_a_bundled_series_keeps_its_description(book: Book) -> None:
    row = "us-bls:SA0,2026-09,330.1,2026-10-13"
    report = load(book, "index", f"series,month,value,released_on\n{row}")
    assert (report.added, report.problems) == (1, ())
    assert ask(book, "SELECT count(*) FROM series WHERE series = 'us-bls:SA0'") == [(1,)]


def test_a_replaced_value_of_the_same_release_counts(book: Book) -> None:
    load(book, "index", INDEX)
    row = "town:tea,2020-02,102.5,2020-03-12"
    report = load(book, "index", f"series,month,value,released_on\n{row}", replace=True)
    assert report.added == 1
    assert ask(
        book,
        "SELECT value FROM series_value_now WHERE series = 'town:tea' AND month = '2020-02-01'",
    ) == [(102.5,)]


def test_a_word_that_the_list_of_allergens_does_not_know_is_told(book: Book) -> None:
    report = load(
        book,
        "ingredients",
        "ingredient,base,allergens\ntart,g,milk; pine nutts\nroll,g,wheat\nflan,g,pine nutts",
    )
    (remark,) = report.remarks
    assert remark.startswith("Lines 2, 4: the list of allergens does not know 'pine nutts'.")
    assert "Nearest: pine nuts" in remark
    (entered,) = ask(book, "SELECT allergens FROM ingredient_now WHERE name = 'tart'")
    assert entered == (["milk", "pine nutts"],)
