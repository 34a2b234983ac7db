"""Tables as CSV, Markdown and HTML: nothing a cell holds is taken for anything else."""

from __future__ import annotations

import csv
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from dashboard import cli
from dashboard.terminal.table_format import as_csv, as_html, as_markdown
from dashboard.terminal.text_table import Table
from pricing.book.connect import Book
from tests.kitchen import make_book
from tests.pricing.reprint.kitchen import FILES
from tests.terminal import run

NASTY = Table(
    ["Dish", "Cost"],
    [["=1+1", "+$0.20"], ["<b>&", "—"], ["  leek | rye\nbake", "$1_2"]],
    right=(1,),
)


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return make_book(tmp_path, FILES, series=())


def test_csv_holds_no_formula() -> None:
    assert list(csv.reader(as_csv([NASTY], "t").splitlines(keepends=True))) == [
        ["Dish", "Cost"], ["'=1+1", "'+$0.20"], ["<b>&", ""], ["leek | rye\nbake", "$1_2"],
    ]  # fmt: skip


def test_markdown_shows_cells_as_they_are() -> None:
    assert as_markdown([NASTY], "t").splitlines() == [
        "| Dish | Cost |",
        "| --- | ---: |",
        "| =1+1 | +\\$0.20 |",
        "| \\<b\\>& | — |",
        "| \u2003leek \\| rye bake | \\$1\\_2 |",
    ]


def test_html_is_well_formed_and_escaped() -> None:
    text = as_html([NASTY, NASTY], "a < b")
    assert text.startswith("<!DOCTYPE html>\n")
    page = ET.fromstring(text.partition("\n")[2].replace('<meta charset="utf-8">', ""))
    assert page.findtext("head/title") == "a < b"
    assert len(page.findall("body/table")) == 2
    cells = [each.text for each in page.iterfind("body/table/tbody/tr/td")]
    assert cells[:4] == ["=1+1", "+$0.20", "<b>&", "—"]
    assert {each.get("scope") for each in page.iterfind("body/table/thead/tr/th")} == {"col"}


def test_every_command_with_a_table_takes_a_format(book: Book) -> None:
    asked = {
        "cost": ("cost",), "dishes": ("dishes",), "printed": ("printed",),
        "ingredients": ("ingredients",), "prices": ("prices", "flour"), "reprint": ("reprint",),
        "info": ("info",), "drivers": ("drivers", "--then", "2026-01-15", "--now", "2026-11-24"),
        "compare": ("compare", "shortbread", "--then", "2026-01-15", "--now", "2026-11-24"),
    }  # fmt: skip
    for command in asked.values():
        for name in ("csv", "md", "html"):
            done = run(*command, "--format", name, book=book.path)
            plainly = run(*command, book=book.path)
            assert done.returncode == plainly.returncode, (command, done.stderr)
            assert done.stdout, command
    rows = list(csv.reader(run("dishes", "--format", "csv", book=book.path).stdout.splitlines()))
    assert rows[0] == ["Dish", "Version", "From", "Portions"]
    assert ["", "2", "2026-10-01", "10"] in rows  # under shortbread 1
    assert len({len(row) for row in rows}) == 1


def test_reprint_has_all_prices_in_its_tables(book: Book) -> None:
    said = run("reprint", "--format", "csv", book=book.path).stdout
    first, _, second = said.partition("\n\n")
    assert first.splitlines()[0].startswith("Prices worth checking,Worth")
    assert second.splitlines()[0].startswith("Dish,Version,Printed")


def test_a_format_that_there_is_not_is_refused_before_anything_is_done(book: Book) -> None:
    done = run("dishes", "--format", "xls", book=book.path)
    assert (done.returncode, done.stdout) == (2, "")
    assert "expected csv, md, html" in done.stderr
    both = run("dishes", "--format", "csv", "--json", book=book.path)
    assert both.returncode == 2
    assert "beside --json" in both.stderr


def test_a_command_without_tables_does_not_take_it(book: Book) -> None:
    done = run("publish", "shortbread", "--on", "2026-11-24", "--format", "csv", book=book.path)
    assert done.returncode == 2
    names = {each.name or each.callback.__name__ for each in cli.app.registered_commands}  # type: ignore[union-attr]
    assert {"cost", "printed", "reprint", "swaps", "till", "tray", "weights"} <= names


def test_an_answer_that_has_no_table_says_so_beside_it(tmp_path: Path) -> None:
    empty = make_book(tmp_path, {}, series=())
    done = run("printed", "--format", "csv", book=empty.path)
    assert (done.returncode, done.stdout) == (0, "")
    assert "no printed figure" in done.stderr
