"""A recipe line is read as a cook reads it, and no text makes the reader fail."""

from __future__ import annotations

import csv
import subprocess
import sys
import time
from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

import ingest
from ingest.recipes.line import RecipeLine
from pricing.errors import MeasureRefused
from pricing.reference.table import data_lines
from tests.benchmarks.recipe_lines import WANTED, default_file, score

ROWS = list(csv.DictReader(data_lines(Path(__file__).with_name("lines.csv").read_text("utf-8"))))
PIECES = st.one_of(
    st.sampled_from(["1", "2½", "1/2", "⅓", "3-4", "1,5", ".5", "0", "1/0", "99999999999", "½"]),
    st.sampled_from(["(", ")", "[", "/", "x", "×", "-", "–", ",", ":", ";", "%", "°", "\u00ad"]),
    st.sampled_from(["to", "or", "of", "and", "plus", "minus", "a", "half", "dozen", "about"]),
    st.sampled_from(["cup", "T", "oz", "14-ounce", "can", "tin", "clove", "inch", "each"]),
    st.sampled_from(["juice", "large", "chopped", "leek", "\ud800"]),
)


def as_written(statement: tuple[Fraction | None, str | None] | None) -> str:
    quantity, unit = statement or (None, None)
    return "" if quantity is None else f"{quantity} {unit}"


def told(read: RecipeLine) -> dict[str, str]:
    """Return a reading in the words of lines.csv."""
    return {
        "quantity": "" if read.quantity is None else str(read.quantity),
        "high": "" if read.high == read.quantity else str(read.high),
        "unit": read.unit or "",
        "pack": as_written((read.pack_quantity, read.pack_unit)),
        "other": as_written(read.other),
        "added": as_written(read.added),
        "item": read.item,
        "rest": read.rest,
    }


def test_there_are_sixty_lines_at_least() -> None:
    assert len({row["line"] for row in ROWS}) == len(ROWS) >= 60


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["line"])
def test_a_line_is_read_as_by_hand(row: Mapping[str, str]) -> None:
    wanted = {key: value for key, value in row.items() if key != "line"}
    assert told(ingest.read_recipe_line(row["line"])) == wanted


def test_a_unit_of_other_measures_keeps_its_prefix_and_one_of_the_kitchens_own_does_not() -> None:
    assert ingest.read_recipe_line("1 uk pint stout", "uk").unit == "pint"
    assert ingest.read_recipe_line("1 uk pint stout", "us").unit == "uk pint"
    assert ingest.read_recipe_line("1 us cup whey", "au").unit == "us cup"
    # 1 pint 4 fl oz: of 20 fl oz in the UK (1 1/5), of 16 in the US (1 1/4)
    assert ingest.read_recipe_line("1 pint 4 fl oz stout", "uk").quantity == Fraction(6, 5)
    assert ingest.read_recipe_line("1 pint 4 fl oz stout", "us").quantity == Fraction(5, 4)


def test_unknown_measures_are_refused_with_the_choices() -> None:
    with pytest.raises(MeasureRefused, match="one of metric, uk, us, au"):
        ingest.read_recipe_line("1 cup whey", "imperial")


def test_a_reading_cannot_be_changed() -> None:
    read = ingest.read_recipe_line("1 quince")
    with pytest.raises(AttributeError):
        read.item = "pear"  # type: ignore[misc]


@given(st.one_of(st.text(), st.lists(PIECES).map(" ".join), st.lists(PIECES).map("".join)))
@example("½ (")
@example("1/0 cup")
@example("x" * 5000)
def test_no_text_makes_it_fail(text: str) -> None:
    read = ingest.read_recipe_line(text)
    assert (read.quantity is None) == (read.unit is None) == (read.high is None)
    assert (read.pack_quantity is None) == (read.pack_unit is None)
    if read.quantity is not None and read.high is not None:
        assert 0 < read.quantity <= read.high


@pytest.mark.parametrize(
    "piece", ["(", "1 ", "1/", "a, ", "or ", "1 cup (", "half a ", " ", "[(", "x "]
)
def test_a_long_text_takes_no_longer_than_a_moment(piece: str) -> None:
    start = time.process_time()
    ingest.read_recipe_line(piece * 200_000)
    assert time.process_time() - start < 1  # seconds; a line takes less than one thousandth


def test_nothing_is_imported_until_it_is_asked_for() -> None:
    code = (
        "import sys, ingest; assert not [m for m in sys.modules if m.startswith('ingest.')];"
        "ingest.read_recipe_line('1 quince');"
        "assert not {'duckdb', 'pandas', 'numpy'} & set(sys.modules); print('light')"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "light\n"
    with pytest.raises(AttributeError, match="no attribute 'read_menu'"):
        ingest.read_menu  # noqa: B018


@pytest.mark.skipif(not default_file().is_file(), reason="the labelled lines are not here")
def test_the_labelled_lines_are_read_as_well_as_wanted() -> None:
    found = score(default_file())
    assert found.lines >= 1900
    assert {question: found.share(question) >= wanted for question, wanted in WANTED.items()} == {
        "quantity": True, "unit": True, "item": True,
    }  # fmt: skip
