"""A stocked book without official series: prices count as they were seen."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from pricing.book.connect import Book
from tests.loading import stocked_book


@pytest.fixture(scope="session")
def stocked(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return stocked_book(tmp_path_factory.mktemp("stocked"), series=[])


@pytest.fixture
def book(stocked: Book, tmp_path: Path) -> Book:
    """A stocked book of the test's own; the loads so far are 1 to 3."""
    path = tmp_path / "kitchen.duckdb"
    shutil.copyfile(stocked.path, path)
    return Book(path=path)
