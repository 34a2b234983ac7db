"""Builds small books for tests from CSV text, through ingest's public door."""

from __future__ import annotations

import tempfile
from collections.abc import Mapping
from datetime import date
from functools import cache
from pathlib import Path

from ingest.load import FileReport, load_bytes
from ingest.new_book import create_book
from pricing.book.connect import Book

TODAY = date(2026, 11, 24)


def csv(text: str) -> bytes:
    """Return indented CSV text as a file's bytes."""
    lines = [line.strip() for line in text.strip().splitlines()]
    return ("\n".join(lines) + "\n").encode()


def load(book: Book, kind: str, text: str, **options: bool) -> FileReport:
    """Load CSV text as a file."""
    return load_bytes(book, kind, f"{kind}.csv", csv(text), today=TODAY, **options)


@cache
def _empty_book(currency: str, measures: str) -> bytes:
    """Return the file of a new book; making one takes half a second, copying it a millisecond."""
    with tempfile.TemporaryDirectory() as folder:
        return create_book(Path(folder) / "new.duckdb", currency, measures).path.read_bytes()


def make_book(
    folder: Path,
    files: Mapping[str, str] | None = None,
    *,
    currency: str = "USD",
    measures: str = "us",
    name: str = "kitchen.duckdb",
) -> Book:
    """Make a book holding `files` (kind → CSV text); every row must be taken."""
    path = folder / name
    assert not path.exists()
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(_empty_book(currency, measures))
    book = Book(path=path)
    for kind, text in (files or {}).items():
        report = load(book, kind, text, accept_unusual=kind == "prices")
        assert report.problems == (), [problem.sentence() for problem in report.problems]
    return book
