"""Swaps of every kind are stored, found again, exported and refused in sentences."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import duckdb
import pytest

from ingest.load import load_file, undo
from pricing.book.connect import Book
from pricing.book.keeping.export import export
from pricing.book.migrate import migrations
from pricing.errors import InputRefused
from tests.kitchen import TODAY, load, make_book
from tests.loading import DISHES, INGREDIENTS, MEASURES, ask, only

HEAD = (
    "ingredient,substitute,ratio,note,ratio_state,supplier,product,pack,works_in,not_in,"
    "not_with,only_with,disturbance"
)
SWAPS = f"""
    {HEAD}
    leek,pearl barley,1.5,,,,,,leek bake; group:soups,,syrup,,2.5
    leek,leek,0.8,less of it,,,,,,stock,,,
    leek,leeks,1,,,Quay Market,frozen leek,2 lb,,,,,
    egg,leave out,0,,,,,,,,,whole milk,
    whole milk,dish:white sauce,1.1,,,,,,,,,,
    whole milk,syrup,1,,,,,,,,,,
"""


def test_every_kind_of_swap_is_stored_as_written(book: Book) -> None:
    report = load(book, "swaps", SWAPS)
    assert (report.added, report.problems) == (6, ())
    rows = ask(
        book,
        "SELECT i.name, s.name, d.name, ratio, supplier, product, pack, pack_amount, "
        "pack_dimension, works_in, not_in, not_with, only_with, disturbance FROM swap_now "
        "JOIN ingredient i USING (ingredient_id) "
        "LEFT JOIN ingredient s ON s.ingredient_id = substitute_id "
        "LEFT JOIN dish d ON d.dish_id = substitute_dish_id ORDER BY row_id",
    )
    nothing = [None] * 5
    works_in = ["group:soups", "leek bake"]
    assert [(*row[:3], row[3].normalize(), *row[4:]) for row in rows] == [
        ("leek", "pearl barley", None, Decimal("1.5"), *nothing, works_in, [], ["syrup"], [],
         Decimal("2.5")),
        ("leek", "leek", None, Decimal("0.8"), *nothing, [], ["stock"], [], [], None),
        # 2 lb = 2 x 453.59237 g (NIST SP 811, appendix B)
        ("leek", "leek", None, Decimal(1), "Quay Market", "frozen leek", "2 lb",
         Decimal("907.18474"), "g", [], [], [], [], None),
        ("egg", None, None, Decimal(0), *nothing, [], [], [], ["whole milk"], None),
        ("whole milk", None, "white sauce", Decimal("1.1"), *nothing, [], [], [], [], None),
        ("whole milk", "syrup", None, Decimal(1), *nothing, [], [], [], [], None),
    ]  # fmt: skip


def test_swaps_loaded_again_add_nothing_with_or_without_the_further_columns(book: Book) -> None:
    load(book, "swaps", SWAPS)
    assert (load(book, "swaps", SWAPS).already, load(book, "swaps", SWAPS).added) == (6, 0)
    short = load(book, "swaps", "ingredient,substitute,ratio\nleek,pearl barley,1.5")
    assert (short.already, short.added, short.problems) == (1, 0, ())


def test_a_fact_that_differs_is_refused_unless_it_is_to_replace(book: Book) -> None:
    load(book, "swaps", SWAPS)
    other = "ingredient,substitute,ratio,disturbance\nleek,pearl barley,1.5,4"
    problem = only(load(book, "swaps", other))
    assert (problem.column, problem.found) == ("disturbance", "4")
    assert load(book, "swaps", other, replace=True).added == 1
    held = ask(book, "SELECT disturbance, works_in FROM swap_now WHERE disturbance IS NOT NULL")
    assert held == [(Decimal(4), ["group:soups", "leek bake"])]  # what was not said stays


def test_an_export_gives_the_same_swaps_to_a_new_book(book: Book, tmp_path: Path) -> None:
    load(book, "swaps", SWAPS)
    files = {file.stem: file for file in export(book, tmp_path / "out")}
    kitchen = {"ingredients": INGREDIENTS, "measures": MEASURES, "dishes": DISHES}
    (tmp_path / "new").mkdir()
    other = make_book(tmp_path / "new", kitchen)
    report = load_file(other, "swaps", files["swaps"], today=TODAY)
    assert (report.added, report.problems) == (6, ())
    again = {file.stem: file for file in export(other, tmp_path / "again")}
    assert again["swaps"].read_text() == files["swaps"].read_text()


@pytest.mark.parametrize(
    ("row", "column", "found"),
    [
        ("leek,leave out,0.5,,,,,,,,,,", "ratio", "0.5 of nothing"),
        ("leek,syrup,0,,,,,,,,,,", "ratio", "'0'"),
        ("leek,syrup,-1,,,,,,,,,,", "ratio", "'-1'"),
        ("leek,leek,1,,,,,,,,,,", "substitute", "'leek', which is the ingredient itself"),
        ("leek,leeks,1.2,,,,,,,,,,", "substitute", "'leeks', which is the ingredient itself"),
        ("leek,leave out,0,,,Quay Market,,,,,,,", "supplier", "'Quay Market'"),
        ("leek,dish:no such,1,,,,,,,,,,", "substitute", "'no such'"),
        ("leek,dish:stock,1,,,,,,,,,,", "substitute", "'dish:stock'"),
        ("leek,egg,1,,edible,,,,,,,,", "ratio_state", "'edible', and no yield of egg"),
        ("leek,egg,1,,,,,1 cup,,,,,", "pack", "the pack '1 cup' of egg, which is priced by each"),
        ("leek,egg,1,,,,,,leek cake,,,,", "works_in", "'leek cake'"),
        ("leek,egg,1,,,,,,,,parsnip,,", "not_with", "'parsnip'"),
        ("leek,egg,1,,,,,,,,,,0", "disturbance", "'0'"),
        ("leek,parsnip,1,,,,,,,,,,", "substitute", "'parsnip'"),
    ],
)
def test_what_cannot_be_a_swap_is_refused(book: Book, row: str, column: str, found: str) -> None:
    problem = only(load(book, "swaps", f"{HEAD}\n{row}"))
    assert (problem.line, problem.column, problem.found) == (2, column, found)
    assert problem.expected
    assert problem.remedy


def test_two_rows_that_contradict_each_other_are_both_left_out(book: Book) -> None:
    report = load(
        book,
        "swaps",
        "ingredient,substitute,ratio,disturbance\nleek,egg,1,2\nLEEK,egg,1,3\nleek,syrup,1,",
        skip_bad=False,
    )
    assert [(each.line, each.column) for each in report.problems] == [(3, "disturbance")]
    assert report.added == 0


def test_what_a_swap_needs_is_not_taken_away(tmp_path: Path) -> None:
    book = make_book(tmp_path, {"ingredients": INGREDIENTS, "measures": MEASURES})
    dishes = load(book, "dishes", DISHES)
    load(book, "swaps", "ingredient,substitute,ratio\nleek,dish:white sauce,1")
    with pytest.raises(InputRefused, match="'white sauce' is still used"):
        undo(book, dishes.load or 0)


def test_an_edible_ratio_needs_its_yields_kept(book: Book) -> None:
    new = load(book, "ingredients", "ingredient,base,yield_pct\negg,each,88", replace=True)
    load(book, "swaps", "ingredient,substitute,ratio,ratio_state\nleek,egg,1,edible")
    with pytest.raises(InputRefused, match=r"'egg' is still used .* \(swaps\)"):
        undo(book, new.load or 0)


def test_what_a_kitchen_says_of_a_dish_is_kept_and_stays_when_a_file_is_silent(
    book: Book, tmp_path: Path
) -> None:
    told = """
        dish,version,effective_from,portions,ingredient,quantity,unit,group,minutes,made_per_month,target
        leek pie,1,2020-01-01,8,leek,1,kg,pies,45,6,1.20
        leek pie,1,2020-01-01,8,egg,4,each,pies,45,6,1.20
    """
    assert load(book, "dishes", told).added == 2
    silent = """
        dish,version,effective_from,portions,ingredient,quantity,unit
        leek pie,1,2020-01-01,8,leek,1,kg
        leek pie,1,2020-01-01,8,egg,4,each
    """
    assert load(book, "dishes", silent).already == 2
    more = silent.replace("4,each", "5,each")
    assert load(book, "dishes", more, replace=True).added == 2
    asked = "SELECT dish_group, minutes, made_per_month, target FROM dish_version_now "
    where = "WHERE dish = 'leek pie'"
    kept = [("pies", Decimal(45), Decimal(6), Decimal("1.2"))]
    assert ask(book, asked + where) == kept
    # the rows of a version must agree in what they say of the dish
    torn = told.replace("pies,45,6,1.20\n        leek pie", "pies,45,6,1.20\n        leek pie", 1)
    torn = torn.replace("4,each,pies", "4,each,tarts").replace("leek pie", "leek tart")
    problem = only(load(book, "dishes", torn))
    assert (problem.column, problem.found) == ("group", "'tarts'")
    file = {file.stem: file for file in export(book, tmp_path / "out")}["dishes"]
    assert load_file(book, "dishes", file, today=TODAY).added == 0


def test_rows_of_the_structure_before_are_read_as_they_were() -> None:
    steps = migrations()
    con = duckdb.connect()
    for step in steps[:3]:
        con.execute(step.sql)
    con.execute("INSERT INTO dish VALUES (1, 'Leek bake', 'leek bake')")
    con.execute(
        "INSERT INTO dish_version (batch, dish_id, version, effective_from, portions) "
        "VALUES (2, 1, 'A', DATE '2020-01-01', 4)"
    )
    con.execute(
        "INSERT INTO swap (batch, line, ingredient_id, substitute_id, ratio, note) "
        "VALUES (3, 2, 7, 8, 1.5, 'as a roux')"
    )
    con.execute("INSERT INTO setting (name, value, set_at) VALUES ('currency', 'GBP', now())")
    before = con.execute("SELECT row_id, raw FROM swap").fetchall()
    con.execute(steps[3].sql)
    assert con.execute("SELECT row_id, raw FROM swap").fetchall() == before
    asked = "SELECT substitute_id, ratio, note, ratio_state, works_in, supplier_key FROM swap_now"
    assert con.execute(asked).fetchall() == [
        (8, Decimal("1.5"), "as a roux", "as_purchased", [], "")
    ]
    assert con.execute("SELECT version, dish_group FROM dish_version_now").fetchall() == [
        ("A", None)
    ]
    assert con.execute("SELECT name, value FROM setting_now").fetchall() == [("currency", "GBP")]
    with pytest.raises(duckdb.Error, match="rows of swap are never edited"):
        con.execute("UPDATE swap SET ratio = 2")
