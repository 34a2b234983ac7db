"""The command that lays recipes side by side, run as a user runs it; the words of its answer.

Costs by pencil beside tests/pricing/bench/bakery.py.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.kitchen import make_book
from tests.pricing.bench.bakery import FILES
from tests.terminal import answer, run


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return make_book(tmp_path_factory.mktemp("bench_cli"), FILES, series=()).path


def said(*arguments: str, book: Path, status: int = 0) -> str:
    """Return what is printed, its paragraphs without their line breaks."""
    done = run("bench", *arguments, "--on", "2026-11-20", book=book)
    assert done.returncode == status, done.stderr
    return done.stdout


def told(*arguments: str, book: Path, status: int = 0) -> str:
    return " ".join(said(*arguments, book=book, status=status).split())


def test_two_versions_as_a_table_and_what_the_difference_buys(book: Path) -> None:
    shown = said("leek pie@1", "leek pie@2", book=book)
    assert "2 recipes side by side, at prices of 20 November 2026" in shown
    rows = {line[:18].strip(): line[18:].split("  ") for line in shown.splitlines()}
    cells = {name: [each.strip() for each in row if each.strip()] for name, row in rows.items()}
    assert cells["Cost per portion"] == ["$0.70", "$0.85"]
    assert cells["Against the first"] == ["—", "+$0.15"]
    assert cells["Portions of a batch"[:18]][-1] == "8"
    assert cells["Minutes at hand"] == ["60", "75"]
    assert cells["Minutes waiting"] == ["105", "105"]
    assert cells["Energy, kWh"] == ["at least 1.2", "at least 1.5"]
    assert cells["Pots to wash up"] == ["6", "7"]
    assert cells["Tasters' marks"] == ["7; 8; 6 (mean 7)", "8; 9; 8; 8 (mean 8.25)"]
    words = " ".join(shown.split())
    assert (
        "leek pie, version 2, what the extra $0.15 a portion buys: 15 more minutes at hand, 1 more "
        "pot to wash up, 0.3 kWh more, marks of 8.25 in place of 7 on average (4 and 3 tasters)."
    ) in words
    assert (
        "B: Allergens, by the ingredient records: milk, wheat. Check the labels. Against" in words
    )
    assert "Against the first: no change in the records." in words
    assert "B: Tasting note: rich" in words
    assert "butter pastry does not state its energy." in words
    assert "check the labels" in words


def test_an_exchange_and_an_addition(book: Path) -> None:
    words = told(
        "leek pie", "--exchange", "butter pastry=lard pastry", "--add", "salad=80 g", book=book
    )
    # 0.675 is shown as 0.68, half up; a reader takes it from 0.85
    assert (
        "lard pastry in place of butter pastry, what $0.17 less a portion comes with: 5 more "
        "minutes at hand, 30 fewer minutes waiting, 1 more pot to wash up. Not known: energy and "
        "tasters' marks."
    ) in words
    assert "with 80 g of salad for each portion, what the extra $0.24 a portion buys" in words
    assert "Against the first: removes milk." in words


def test_unknown_is_said_to_be_unknown(book: Path) -> None:
    words = told("leek pie", "soup", book=book, status=1)
    assert "at least $0.30" in words
    assert "soup, version 1, whose cost cannot be compared without a price of broth" in words
    assert "no difference that is stated (a batch gives 4 portions, of the first 8)." in words
    assert (
        "Not known: minutes at hand, minutes waiting, washing-up, energy and tasters' marks."
    ) in words
    assert "unknown of broth. Check the labels." in words
    assert "Against the first: added: unknown; removed: unknown." in words
    assert "soup, version 1: no price of broth." in words
    for word in ("free from", "safe", "suitable"):
        assert word not in words


def test_json(book: Path) -> None:
    found = answer(
        "bench", "leek pie@2", "--add", "salad", "--on", "2026-11-20", "--json", book=book
    )
    assert [each["change"] for each in found["columns"]] == [
        None, "with 1 portion of salad for each portion",
    ]  # fmt: skip
    assert found["columns"][1]["cost_per_portion"] == pytest.approx(1.15)
    assert found["columns"][0]["marks"] == {"given": [8, 9, 8, 8], "mean": 8.25}
    assert found["columns"][0]["minutes"] == {"amount": 75, "own": 55, "unstated": []}


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["leek pie"], "Found 1 to lay side by side"),
        (["leek pie", "--exchange", "butter pastry"], "Found the exchange 'butter pastry'"),
        (["leek pie", "leak pie"], "Nearest: leek pie"),
        (["leek pie", "--add", "salad=some"], "Found 'some' of 'salad'"),
    ],
)
def test_a_wrong_command_is_one_sentence(book: Path, arguments: list[str], says: str) -> None:
    done = run("bench", *arguments, book=book)
    assert done.returncode == 2
    assert done.stdout == ""
    assert says in done.stderr
