"""What the tests of the book's file share: a small book, and a folder that few may write to."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from pricing.book.connect import Book
from tests.pricing.book.kitchen import small_book


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return small_book(tmp_path / "kitchen.duckdb")


@pytest.fixture
def shared_folder() -> Iterator[Path]:
    """A folder that every user may enter, but only its owner may write to."""
    folder = Path(tempfile.mkdtemp())
    folder.chmod(0o755)
    yield folder
    shutil.rmtree(folder)
