"""What the tests of loading share: a stocked book made once, and looks into what it stores."""

from __future__ import annotations

import shutil
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import pytest

from ingest.load import FileReport
from pricing.book.connect import Book, reading
from pricing.errors import Problem
from tests.kitchen import make_book

# leek: g, edible 76 % of what is bought, 210 g each, a bunch of 640 g
# whole milk: ml, 1.03 g per ml; egg: each, 57 g; barley: g and nothing else; syrup: ml, no density
INGREDIENTS = """
    ingredient,category,base,density_g_per_ml,grams_each,yield_pct,series,allergens,aliases
    leek,vegetable,g,,210,76,us-bls:SEFL04,none,leeks
    whole milk,dairy,ml,1.03,,,us-bls:SEFJ01,milk,
    egg,dairy,each,,57,,,egg,
    pearl barley,,g,,,,,barley; gluten,barley
    syrup,,ml,,,,,,
"""
SERIES = ("us-bls:SEFL04", "us-bls:SEFJ01")  # those that the ingredients name
MEASURES = """
    ingredient,measure,grams,source
    leek,bunch,640,kitchen scales
"""
DISHES = """
    dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit,state,yield_pct,pantry,note
    white sauce,1,2012-01-01,4,900,whole milk,900,ml,,,,
    leek bake,1,2012-01-01,6,,leek,800,g,edible,,,
    leek bake,1,2012-01-01,6,,dish:white sauce,450,g,,,,
    stock,1,2012-01-01,10,,leek,1,bunch,,,,
"""


def stocked_book(folder: Path, *, series: Iterable[str] | None = None) -> Book:
    """Make a US book with ingredients (load 2), a measure (3) and dishes (4), and no prices.

    `series`: as of make_book.
    """
    files = {"ingredients": INGREDIENTS, "measures": MEASURES, "dishes": DISHES}
    return make_book(folder, files, series=series)


@pytest.fixture(scope="session")
def _template(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return stocked_book(tmp_path_factory.mktemp("template"))


@pytest.fixture
def book(_template: Book, tmp_path: Path) -> Book:
    """A stocked book of the test's own."""
    path = tmp_path / "kitchen.duckdb"
    shutil.copyfile(_template.path, path)
    return Book(path=path)


def ask(book: Book, sql: str) -> list[tuple[Any, ...]]:
    """Return the rows of a query on the book."""
    with reading(book) as con:
        return con.execute(sql).fetchall()


def only(report: FileReport) -> Problem:
    """Return the one problem of a report that stored nothing."""
    assert len(report.problems) == 1, [problem.sentence() for problem in report.problems]
    assert (report.load, report.added, report.already) == (None, 0, 0)
    return report.problems[0]


def places(report: FileReport) -> list[tuple[int | None, str | None]]:
    """Return line and column of each problem."""
    return [(problem.line, problem.column) for problem in report.problems]
