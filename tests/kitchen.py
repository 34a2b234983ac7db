"""Builds small books for tests from CSV text, through ingest's public door."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from pathlib import Path

from ingest.load import FileReport, load_bytes
from ingest.official.load_bundled import create_book
from pricing.book.connect import Book

TODAY = date(2026, 11, 24)


def csv(text: str) -> bytes:
    """Return indented CSV text as a file's bytes."""
    lines = [line.strip() for line in text.strip().splitlines()]
    return ("\n".join(lines) + "\n").encode()


def load(book: Book, kind: str, text: str, **options: bool) -> FileReport:
    """Load CSV text as a file."""
    return load_bytes(book, kind, f"{kind}.csv", csv(text), today=TODAY, **options)


def make_book(
    folder: Path,
    files: Mapping[str, str] | None = None,
    *,
    currency: str = "USD",
    measures: str = "us",
    name: str = "kitchen.duckdb",
) -> Book:
    """Make a book holding `files` (kind → CSV text); every row must be taken."""
    book = create_book(folder / name, currency, measures)
    for kind, text in (files or {}).items():
        report = load(book, kind, text, accept_unusual=kind == "prices")
        assert report.problems == (), [problem.sentence() for problem in report.problems]
    return book
