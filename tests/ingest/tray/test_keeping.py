"""The tray is kept like the rest of the book: examined, listed, copied, written out, upgraded."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import duckdb
import pytest

import pricing
from ingest.load import load_file
from pricing.book.connect import Book, writing
from pricing.book.keeping.archive import backup, restore
from pricing.book.keeping.check import check
from pricing.book.keeping.export import export
from pricing.book.keeping.info import info
from pricing.errors import BookUnreadable
from tests.former_book import former_book
from tests.ingest.tray.bring import bring, decided, line, rows_of, seen, waiting
from tests.kitchen import TODAY, load, make_book
from tests.loading import ask
from tests.pricing.book.test_check import tamper

TABLES = ("tray_line", "decision", "tray_settled")
DISH = """
    dish,version,effective_from,portions,ingredient,quantity,unit
    chowder,1,2026-01-01,4,leek,500,g
    chowder,1,2026-01-01,4,waiting: moo,1,l
    chowder,1,2026-01-01,4,waiting: odd,2,handful
"""


@pytest.fixture
def used(book: Book) -> Book:
    """A book in which words wait, were settled, and were decided; loads 4 to 6."""
    bring(book, line("ZRV", "1.50"), line("=1+1", line=3))
    load(book, "dishes", DISH)
    decided(book, ",ZRV,leek,500 g", ",'=SUM(A1),not an ingredient,", ",moo,whole milk,")
    return book


def cost(book: Book) -> dict[str, Any]:
    return dict(pricing.cost_dish(book, "chowder", on=date(2026, 11, 24)).as_json())


def test_a_used_tray_is_sound_and_its_loads_are_listed(used: Book) -> None:
    assert check(used).problems == ()
    told = [(each["load"], each["kind"], each["added"]) for each in info(used)["loads"]]
    assert told[3:] == [(4, "prices", 0), (5, "dishes", 3), (6, "decisions", 3)]


@pytest.mark.parametrize(
    ("table", "change"),
    [
        ("tray_line", "SET words = 'ZRW' WHERE words = 'ZRV'"),
        ("decision", "SET pack = '501 g' WHERE words = 'ZRV'"),
        ("tray_settled", "SET tray_row = tray_row + 1"),
    ],
)
def test_an_edited_row_of_the_tray_is_found(used: Book, table: str, change: str) -> None:
    tamper(used, table, f"UPDATE {table} {change}")
    assert any("not as they were stored" in each for each in check(used).problems)


@pytest.mark.parametrize("table", TABLES)
def test_rows_of_the_tray_are_never_edited_or_deleted(used: Book, table: str) -> None:
    for statement in (f"UPDATE {table} SET line = 9", f"DELETE FROM {table}"):
        with pytest.raises(duckdb.Error, match=f"rows of {table} are never"), writing(used) as con:
            con.execute(statement)
    assert check(used).problems == ()


def test_a_backup_brings_the_tray_back(used: Book, tmp_path: Path) -> None:
    before = rows_of(used, TABLES)
    copy = backup(used, tmp_path / "copy.duckdb")
    decided(used, ",=1+1,barley,500 g".replace(",=1+1", ",'=1+1"))
    assert waiting(used) == []
    restore(used.path, copy, replace=True)
    assert (waiting(used), rows_of(used, TABLES)) == (["=1+1"], before)


def test_an_export_holds_decisions_and_recipe_lines_that_wait(used: Book, tmp_path: Path) -> None:
    """Loaded into a new book, the dish costs the same, and the words are known there, too."""
    files = {path.name: path for path in export(used, tmp_path / "out")}
    assert files["decisions.csv"].read_text("utf-8").splitlines() == [
        "sender,words,ingredient,pack,product",
        ",'=SUM(A1),not an ingredient,,",
        ",moo,whole milk,,",
        ",ZRV,leek,500 g,",
    ]
    assert "waiting: odd,2,handful" in files["dishes.csv"].read_text("utf-8")
    other = make_book(tmp_path, series=[], name="other.duckdb")
    for name, path in files.items():
        if name != "settings.csv":
            report = load_file(other, path.stem, path, today=TODAY)
            assert report.problems == (), [each.sentence() for each in report.problems]
    assert cost(other) == cost(used)
    again = bring(other, line("ZRV", "1.50"), line("=sum(a1)", line=3))
    assert (again.added, again.already, again.waiting) == (0, 1, 0)
    written = [path.read_bytes() for path in export(other, tmp_path / "again")]
    assert written == [path.read_bytes() for path in files.values()]


def test_a_book_of_step_7_is_upgraded_and_then_has_a_tray(book: Book, tmp_path: Path) -> None:
    """The stored rows of today's book in a file of the former structure."""
    load(book, "prices", "ingredient,date,price,currency,pack\nleek,2026-11-02,3,USD,1 kg")
    load(
        book,
        "dishes",
        DISH.replace("waiting: moo", "whole milk").replace(
            "waiting: odd,2,handful", "leek,1,bunch"
        ),
    )
    former = former_book(book, tmp_path / "former.duckdb", 7)
    with pytest.raises(BookUnreadable, match="check --upgrade"):
        cost(former)
    assert check(former, upgrade=True).problems == ()
    assert cost(former) == cost(book)
    assert seen(former) == seen(book)
    assert rows_of(former, TABLES) == dict.fromkeys(TABLES, 0)
    assert ask(former, "SELECT count(*) FROM load_batch") == ask(
        book, "SELECT count(*) FROM load_batch"
    )
