"""What a dishes file says for the test bench: kept, compared, taken back, written out."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from ingest.load import load_file, undo
from pricing.book.connect import Book, reading, writing
from pricing.book.keeping.check import check
from pricing.book.keeping.export import export
from tests.former_book import former_book
from tests.kitchen import TODAY, load, make_book

INGREDIENTS = """
    ingredient,base,density_g_per_ml,allergens
    flour,g,,wheat
    milk,ml,1.03,milk
"""
TOLD = """
    dish,version,effective_from,portions,ingredient,quantity,unit,minutes,minutes_waiting,energy_kwh,pots,marks,tasting_note
    flat bread,1,2026-01-05,4,flour,400,g,20,90,0.75,2,7; 8.50 ;7,a little salty
    flat bread,1,2026-01-05,4,milk,200,ml,20,90,0.75,2,7;8.5;7,a little salty
"""
SILENT = """
    dish,version,effective_from,portions,ingredient,quantity,unit
    flat bread,1,2026-01-05,4,flour,400,g
    flat bread,1,2026-01-05,4,milk,200,ml
"""
ASKED = (
    "SELECT minutes, minutes_waiting, energy_kwh, pots, marks, tasting_note FROM dish_version_now"
)
KEPT = (Decimal(20), Decimal(90), Decimal("0.75"), 2, ["7", "8.5", "7"], "a little salty")


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return make_book(tmp_path, {"ingredients": INGREDIENTS, "dishes": TOLD}, series=[])


def held(book: Book) -> list[tuple[Any, ...]]:
    with reading(book) as con:
        return con.execute(ASKED).fetchall()


def test_it_is_kept_and_stays_where_a_file_is_silent(book: Book) -> None:
    assert held(book) == [KEPT]
    assert load(book, "dishes", TOLD).already == 2
    assert load(book, "dishes", SILENT).already == 2
    assert load(book, "dishes", SILENT.replace("200,ml", "250,ml"), replace=True).added == 2
    assert held(book) == [KEPT]


def test_other_marks_differ_from_the_books_and_replace_them(book: Book) -> None:
    other = TOLD.replace("7; 8.50 ;7", "7;9;7").replace("7;8.5;7", "7;9;7")
    (problem,) = load(book, "dishes", other).problems
    assert (problem.line, problem.column, problem.found) == (2, "marks", "'7; 9; 7'")
    assert "'7; 8.5; 7', as the book has it" in problem.expected
    report = load(book, "dishes", other, replace=True)
    assert held(book)[0][4] == ["7", "9", "7"]
    undo(book, report.load or 0)
    assert held(book) == [KEPT]


def test_the_order_of_the_marks_is_that_of_the_tasters(book: Book) -> None:
    turned = TOLD.replace("7; 8.50 ;7", "8.5;7;7").replace("7;8.5;7", "8.5;7;7")
    assert [each.column for each in load(book, "dishes", turned).problems] == ["marks"]


@pytest.mark.parametrize(
    ("column", "before", "after", "found", "expected"),
    [
        (
            "marks",
            "7; 8.50 ;7",
            "7;good",
            "'good'",
            "marks, each a number from 0, written like 1.5",
        ),
        ("marks", "7; 8.50 ;7", ";", "';'", "marks such as 7;8;6"),
        ("pots", "0.75,2,7; ", "0.75,2.5,7; ", "'2.5', which has 1 decimals", "at most 0 decimals"),
        ("energy_kwh", ",90,0.75,2,7; ", ",90,-1,2,7; ", "'-1'", "a number from 0"),
        ("minutes_waiting", "20,90,0.75,2,7; ", "20,1 h,0.75,2,7; ", "'1 h'", "a number from 0"),
    ],
)
def test_what_cannot_be_read_is_one_sentence_and_nothing_is_stored(
    tmp_path: Path, column: str, before: str, after: str, found: str, expected: str
) -> None:
    book = make_book(tmp_path, {"ingredients": INGREDIENTS}, series=[])
    assert before in TOLD
    (problem,) = load(book, "dishes", TOLD.replace(before, after)).problems
    assert (problem.line, problem.column, problem.found) == (2, column, found)
    assert problem.expected.startswith(expected)
    assert held(book) == []


def test_the_rows_of_a_version_agree_in_it(tmp_path: Path) -> None:
    book = make_book(tmp_path, {"ingredients": INGREDIENTS}, series=[])
    torn = TOLD.replace("20,90,0.75,2,7;8.5;7", "20,45,0.75,2,7;8.5;7")
    (problem,) = load(book, "dishes", torn).problems
    assert (problem.line, problem.column, problem.found) == (3, "minutes_waiting", "45")
    assert problem.expected == "90, as on line 2 of the same version"


def test_nothing_waiting_and_no_pots_are_stated_and_not_unknown(tmp_path: Path) -> None:
    book = make_book(tmp_path, {"ingredients": INGREDIENTS}, series=[])
    assert load(book, "dishes", TOLD.replace("90,0.75,2,", "0,0,0,")).problems == ()
    assert held(book)[0][1:4] == (0, 0, 0)


def test_export_there_and_back(book: Book, tmp_path: Path) -> None:
    files = export(book, tmp_path / "out")
    (dishes,) = [each for each in files if each.stem == "dishes"]
    rows = dishes.read_text("utf-8").splitlines()
    assert rows[0].endswith(",target,minutes_waiting,energy_kwh,pots,marks,tasting_note")
    assert rows[1].endswith(",90,0.75,2,7;8.5;7,a little salty")
    assert load_file(book, "dishes", dishes, today=TODAY).already == 2
    other = make_book(tmp_path, {"ingredients": INGREDIENTS}, series=[], name="other.duckdb")
    assert load_file(other, "dishes", dishes, today=TODAY).problems == ()
    assert held(other) == [KEPT]


def test_a_decision_on_a_waiting_line_keeps_it(tmp_path: Path) -> None:
    book = make_book(tmp_path, {"ingredients": INGREDIENTS}, series=[])
    waits = TOLD.replace("milk,200,ml", "waiting: moo,200,ml")
    assert load(book, "dishes", waits).waiting == 1
    assert load(book, "decisions", "words,ingredient\nmoo,milk").problems == ()
    assert held(book) == [KEPT]
    assert check(book).problems == ()


def test_check_sees_a_changed_mark_and_a_row_that_points_at_nothing(book: Book) -> None:
    import duckdb

    assert check(book).problems == ()
    with duckdb.connect(str(book.path)) as con:  # past the triggers that refuse an edit
        con.execute("DROP TRIGGER dish_trial_never_edited ON dish_trial")
        con.execute("UPDATE dish_trial SET marks = ['7', '9', '7'], version_row = 9999")
    said = " ".join(check(book).problems)
    assert "not as they were stored" in said
    assert "details of a dish version that does not exist" in said


def test_a_book_of_step_8_is_upgraded_and_then_keeps_it(tmp_path: Path) -> None:
    today = make_book(tmp_path, {"ingredients": INGREDIENTS, "dishes": SILENT}, series=[])
    former = former_book(today, tmp_path / "former.duckdb", 8)
    assert check(former, upgrade=True).problems == ()
    assert held(former) == [(None,) * 6]
    with writing(former) as con:  # the rows came without their numbers being taken
        con.execute("SELECT nextval('next_row_id') FROM range(1000)").fetchall()
    assert load(former, "dishes", TOLD, replace=True).added == 2
    assert held(former) == [KEPT]
    assert check(former).problems == ()
