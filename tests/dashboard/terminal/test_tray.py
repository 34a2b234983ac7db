"""`tray`: what waits, written down and decided; all commands live with a line that waits."""

from __future__ import annotations

import csv
import shutil
from pathlib import Path

import pytest

from pricing.book.connect import Book
from tests.ingest.tray.bring import bring, line, seen, waiting
from tests.kitchen import load
from tests.loading import stocked_book
from tests.terminal import answer, run

DAY = "2026-11-24"
DISHES = """
    dish,version,effective_from,portions,ingredient,quantity,unit
    chowder,1,2026-01-01,4,leek,500,g
    chowder,1,2026-01-01,4,waiting: moo,1,l
    chowder,2,2026-11-10,4,leek,400,g
    chowder,2,2026-11-10,4,waiting: odd,2,handful
"""


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Book:
    book = stocked_book(tmp_path_factory.mktemp("tray"), series=[])
    load(book, "prices", "ingredient,date,price,currency,pack\nleek,2026-10-02,3,USD,1 kg")
    load(book, "dishes", DISHES)
    load(book, "printed", "dish,version,published_on,cost_per_portion,currency\n"
         "chowder,2,2026-11-12,0.50,USD")  # fmt: skip
    return book


@pytest.fixture
def book(made: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Book:
    shutil.copyfile(made.path, tmp_path / "kitchen.duckdb")
    monkeypatch.chdir(tmp_path)
    return Book(path=tmp_path / "kitchen.duckdb")


@pytest.mark.parametrize(
    ("typed", "status", "told"),
    [
        (("cost", "chowder", "--on", DAY), 1, "waiting: odd"),
        (("cost", "--on", DAY), 1, "at least $0.30"),
        (("drift", "chowder", "--from", "2026-10", "--to", "2026-11"), 1, "at least $0.3"),
        (("compare", "chowder", "--then", "2026-11-01", "--now", DAY), 1,
         "−$0.08 per portion, without moo (waits for a decision)"),
        (("drivers", "--then", "2026-11-01", "--now", DAY), 1, "waiting: odd"),
        (("inflation", "--from", "2026-10", "--to", "2026-11"), 1, "waiting: "),
        (("printed", "--on", DAY), 1, "cannot price"),
        (("swaps", "chowder", "--on", DAY), 1, "at least $0.30"),
        (("swaps", "--on", DAY), 0, "No swap in the book saves anything"),
        (("till", "chowder", "--on", DAY), 1, "waiting: odd"),
        (("dishes",), 0, "chowder"),
    ],
    ids=["cost", "costs", "drift", "compare", "drivers", "inflation", "printed", "swaps",
         "all swaps", "till", "dishes"],
)  # fmt: skip
def test_every_question_lives_with_a_line_that_waits(
    book: Book, typed: tuple[str, ...], status: int, told: str
) -> None:
    """400 g of leek at 3 a kilo are 1.20, for 4 portions 0.30; 500 g are 0.375, 0.075 more."""
    done = run(*typed, book=book.path)
    assert "Traceback" not in done.stderr
    assert done.returncode == status, done.stdout + done.stderr
    assert told in done.stdout + done.stderr


def test_what_waits_is_no_ingredient_of_the_book(book: Book) -> None:
    told = answer("ingredients", "--json", book=book.path)
    assert not any("waiting" in each["ingredient"] for each in told["ingredients"])
    assert run("prices", "waiting: odd", book=book.path).returncode == 2
    assert run("publish", "chowder", "--on", DAY, book=book.path).returncode == 1


def test_an_empty_tray_says_so(tmp_path: Path) -> None:
    book = stocked_book(tmp_path, series=[])
    assert run("tray", book=book.path).stdout == "Nothing waits for a decision.\n"
    assert answer("tray", "--json", book=book.path) == {"waiting": []}


def test_each_description_is_told_once_with_its_lines_and_last_price(book: Book) -> None:
    """The last price of one: 9.00 for 2 is 4.50."""
    bring(
        book,
        line("ZRV", "4", supplier="Shop A"),
        line("ZRV", "9", supplier="Shop A", line=3, unit="box"),
    )
    found = {each["words"]: each for each in answer("tray", "--json", book=book.path)["waiting"]}
    assert set(found) == {"ZRV", "moo", "odd"}
    assert (found["ZRV"]["sender"], found["ZRV"]["lines"]) == ("Shop A", 2)
    assert (found["ZRV"]["last_price"], found["ZRV"]["currency"]) == (9.0, "USD")
    assert found["ZRV"]["files"] == ["list.csv"]
    assert (found["odd"]["dishes"], found["odd"]["last_price"]) == (["chowder"], None)
    said = run("tray", book=book.path).stdout
    assert "3 descriptions, 4 lines." in said


def test_sure_proposals_are_written_and_loaded_as_they_stand(book: Book) -> None:
    """ "Leek 500 g" is leek by its name, at 3.20 a kilo near the 3 that the book expects."""
    bring(
        book,
        line("LEEK 500G", "1.60", supplier="Shop A", pack=None, unit="box"),
        line("ZRV", line=3),
    )
    # its words state the pack, so that it needs a decision only on what it is
    load(
        book,
        "dishes",
        DISHES.replace("chowder", "soup").replace("waiting: moo", "waiting: pearl barly"),
    )
    done = run("tray", "--write", "out.csv", book=book.path)
    assert done.returncode == 0, done.stderr
    with Path("out.csv").open(encoding="utf-8", newline="") as file:
        written = {row["words"]: row for row in csv.DictReader(file)}
    assert written["LEEK 500G"]["ingredient"] == "leek"
    assert float(written["LEEK 500G"]["score"]) >= 0.75
    assert written["ZRV"]["ingredient"] == ""
    done = run("load", "decisions", "out.csv", book=book.path)
    assert done.returncode == 0, done.stdout + done.stderr
    assert "not decided yet" in done.stderr
    assert "LEEK 500G" not in waiting(book)
    assert seen(book)[-1][0] == "leek"


def test_a_file_is_never_overwritten(book: Book) -> None:
    Path("out.csv").write_text("mine", "utf-8")
    done = run("tray", "--write", "out.csv", book=book.path)
    assert done.returncode == 2
    assert "so that nothing is overwritten" in done.stderr
    assert Path("out.csv").read_text("utf-8") == "mine"


@pytest.mark.parametrize(
    "words", ["=cmd|' /C calc'!A0", "+1", "-2 for 1", "@SUM(A1)", "'=1", "\uff1d1"]
)
def test_the_written_file_is_safe_in_a_spreadsheet_and_comes_back_as_it_was(
    book: Book, words: str
) -> None:
    bring(book, line(words, supplier="=shop"))
    run("tray", "--write", "out.csv", book=book.path)
    text = Path("out.csv").read_text("utf-8")
    cells = [cell for row in csv.reader(text.splitlines()) for cell in row]
    assert [cell for cell in cells if cell[:1] in tuple("=+-@\uff1d")] == []
    with Path("decided.csv").open("w", encoding="utf-8", newline="") as file:
        out = csv.writer(file)
        out.writerow(["sender", "words", "ingredient", "pack"])
        for row in csv.DictReader(text.splitlines()):
            out.writerow([row["sender"], row["words"], "leek" if row["sender"] else "", "2 kg"])
    done = run("load", "decisions", "decided.csv", book=book.path)
    assert done.returncode == 0, done.stdout + done.stderr
    assert waiting(book) == []
    assert seen(book)[-1][3] == "=shop"
