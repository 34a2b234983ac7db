"""Builds small books for tests from CSV text, through ingest's public door."""

from __future__ import annotations

import tempfile
from collections.abc import Iterable, Mapping
from datetime import date
from functools import cache, lru_cache
from pathlib import Path
from unittest.mock import patch

from ingest.load import FileReport, load_bytes
from ingest.new_book import create_book
from ingest.official.bundled import bundled_series, bundled_values
from pricing.book import connect
from pricing.book.append import write_settings
from pricing.book.connect import Book, create, writing

TODAY = date(2026, 11, 24)
Files = tuple[tuple[str, str], ...]  # kind and CSV text, in loading order
Made = tuple[str, str, tuple[str, ...] | None]  # currency, measures, series (None: all bundled)


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
    series: Iterable[str] | None = None,
) -> Book:
    """Make a book holding `files` (kind → CSV text); every row must be taken.

    `series` keeps of the bundled official series only these and the wider ones above them, each
    from 2008 on, and no setting that names one: such a book answers sooner.
    """
    path = folder / name
    assert not path.exists()
    path.parent.mkdir(parents=True, exist_ok=True)
    made = (currency, measures, None if series is None else tuple(sorted(series)))
    path.write_bytes(_book_file(made, tuple((files or {}).items())))
    return Book(path=path)


@lru_cache(maxsize=24)
def _book_file(made: Made, files: Files) -> bytes:
    """Return the file of a book. Loading takes a tenth of a second a file, copying a millisecond.

    A book grows from that of one file less, so that tests whose first files are alike share those.
    """
    if not files:
        return _empty_book(made)
    with tempfile.TemporaryDirectory() as folder:
        book = Book(path=Path(folder) / "kitchen.duckdb")
        book.path.write_bytes(_book_file(made, files[:-1]))
        kind, text = files[-1]
        report = load(book, kind, text, accept_unusual=kind == "prices")
        assert report.problems == (), [problem.sentence() for problem in report.problems]
        return book.path.read_bytes()


@cache
def _empty_book(made: Made) -> bytes:
    currency, measures, series = made
    # small blocks: a book of a few rows is 2 MB then and not 8, which thousands of copies feel
    small_blocks = patch.dict(connect._CONFIG, {"default_block_size": 65536})
    with small_blocks, tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "new.duckdb"
        if series is None:
            return create_book(path, currency, measures).path.read_bytes()
        with writing(create(path)) as con:
            settings = {"currency": currency, "measures": measures, "fresh_days": "45"}
            write_settings(con, settings)
        if series:
            report = load(Book(path=path), "index", _some_series(series))
            assert report.problems == (), [problem.sentence() for problem in report.problems]
        return path.read_bytes()


def _some_series(names: Iterable[str]) -> str:
    """Return the index file of some of the bundled series and of all that stand above them."""
    held = {each.series: each for each in bundled_series()}
    wanted: set[str] = set()
    for name in names:
        above: str | None = name
        while above is not None and above not in wanted:
            wanted.add(above)
            above = held[above].parent
    rows = ["series,month,value,title,parent"]
    for name, month, value in zip(*bundled_values(), strict=True):
        if name in wanted and month.year >= 2008:
            each = held[name]
            rows.append(f'{name},{month:%Y-%m},{value!r},"{each.title}",{each.parent or ""}')
    return "\n".join(rows)
