"""What `load --help` says of the columns: every kind, every column, what is required."""

from __future__ import annotations

import re

import pytest

from ingest.text.columns import KINDS, TABLES
from ingest.text.columns_help import WIDTH, columns_about, columns_help
from pricing.book.connect import Book
from tests.kitchen import load
from tests.loading import only, places

# as the page on files says it: bold ones required, in its order
REQUIRED = {
    "ingredients": ["ingredient", "base"],
    "measures": ["ingredient", "measure", "grams"],
    "prices": ["ingredient", "date", "price", "currency", "pack"],
    "dishes": [
        "dish", "version", "effective_from", "portions", "ingredient", "quantity", "unit",
    ],
    "swaps": ["ingredient", "substitute", "ratio"],
    "printed": ["dish", "version", "published_on", "cost_per_portion", "currency"],
    "index": ["series", "month", "value"],
    "decisions": ["words"],
}  # fmt: skip


def by_kind(text: str) -> dict[str, dict[str, str]]:
    """Return kind → column with its mark → what is said of it, as a reader would find them."""
    found: dict[str, dict[str, str]] = {}
    kind = column = ""
    for line in text.splitlines():
        if re.fullmatch(r"\w+", line):
            kind = line
            found[kind] = {}
        elif named := re.fullmatch(r"  (\w+(?: \*)?)  +(\S.*)", line):
            column = named[1]
            found[kind][column] = named[2]
        elif line.startswith("   "):
            found[kind][column] += f" {line.strip()}"
    return found


def test_every_kind_and_every_column_is_there_in_order() -> None:
    found = by_kind(columns_help())
    assert list(found) == list(KINDS)
    for kind, columns in TABLES.items():
        assert [name.removesuffix(" *") for name in found[kind]] == [each.name for each in columns]


def test_the_required_columns_are_marked_and_no_others() -> None:
    marked = {
        kind: [name.removesuffix(" *") for name in columns if name.endswith(" *")]
        for kind, columns in by_kind(columns_help()).items()
    }
    assert marked == REQUIRED


def test_each_column_and_no_other_is_explained_in_few_words() -> None:
    about = columns_about()
    declared = [(kind, column.name) for kind, columns in TABLES.items() for column in columns]
    assert list(about) == declared
    for place, words in about.items():
        assert 2 <= len(words) <= 60, place
        assert not words.endswith("."), place


def test_the_words_that_a_cell_may_be_are_said() -> None:
    found = by_kind(columns_help())
    assert "(shelf, offer, receipt, invoice, quote)" in found["prices"]["kind"]
    assert "(g, ml, each)" in found["ingredients"]["base *"]
    assert "(as_purchased, edible)" in found["dishes"]["state"]
    assert "(yes, no)" in found["dishes"]["pantry"]
    assert "(monthly, quarterly)" in found["index"]["frequency"]


def test_a_line_fits_a_terminal() -> None:
    assert max(map(len, columns_help().splitlines())) <= WIDTH < 80


def test_one_kind_can_be_asked_for() -> None:
    assert list(by_kind(columns_help(["swaps"]))) == ["swaps"]


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_marked_required_is_required(book: Book, kind: str) -> None:
    for name in REQUIRED[kind]:
        header = [column.name for column in TABLES[kind] if column.name != name]
        report = load(book, kind, f"{','.join(header)}\n{',' * len(header)}x")
        assert only(report).found == f"no column '{name}'"
        assert places(report) == [(1, name)]
