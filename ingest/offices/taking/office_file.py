"""Reads one file of a statistics office, of whatever layout, and takes its series into the book."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from datetime import date
from typing import Any

from ingest.kinds.checked import Options
from ingest.offices.forms import two_column
from ingest.offices.reading.collect import Collector, Found
from ingest.offices.reading.source import Source, SourceRefused
from ingest.offices.taking.recognise import readers_of
from ingest.offices.taking.take import Delivery, take
from ingest.problem_codes import Code
from ingest.report import FileReport
from pricing.book.connect import Book
from pricing.errors import Problem

_OWN_FORM = {"series", "month", "value"}  # columns of the kind `index`, the program's own form
_PIECE = 1024 * 1024


def is_office_file(source: Source) -> bool:
    """Tell whether a reader of this folder is to read the file: not when it is in the own form."""
    try:
        head = source.head
    except SourceRefused:
        return False
    first = head.lstrip().split("\n", 1)[0]
    cells = {cell.strip(' "\r').casefold() for cell in first.split(",")}
    return not cells >= _OWN_FORM and len(readers_of(head)) > 0


def says_which(source: Source) -> bool:
    """Tell whether a file says which series it holds: one of dates and values alone does not."""
    try:
        return [reader.NAME for reader in readers_of(source.head)] != [two_column.NAME]
    except SourceRefused:
        return True  # it says nothing at all, and loading it says why


def read_office(
    source: Source, today: date, wanted: Sequence[str] = (), title: str | None = None
) -> Found:
    """Return the index series of a file, and every problem of it.

    `wanted` names series, items or countries; none: all of a small file, the food ladder of a
    large one. `title` is for a file that does not say what its series is.
    """
    collector = Collector(today, wanted)
    try:
        readers = readers_of(source.head)
        if len(readers) != 1:
            return _unknown(source.head, [reader.NAME for reader in readers])
        extra: dict[str, Any] = {"title": title} if readers[0].NAME == two_column.NAME else {}
        readers[0].read(source, collector, **extra)
    except SourceRefused as refused:
        collector.problems.append(refused.problem)
    found = collector.finish()
    absent = _absent(collector, found)
    return (
        found
        if not absent
        else Found(series=found.series, problems=(*found.problems, *absent), remarks=found.remarks)
    )


def load_office_file(
    book: Book,
    source: Source,
    options: Options,
    *,
    wanted: Sequence[str],
    title: str | None,
    dry_run: bool,
) -> FileReport:
    """Load a file of an office: all of its index series that are wanted, or none."""
    found = read_office(source, options.today, wanted, title)
    delivery = Delivery(shown=source.shown, name=source.name, sha256=sha256_of(source), found=found)
    return take(book, delivery, options, dry_run=dry_run)


def sha256_of(source: Source) -> str:
    """Return the SHA-256 of the bytes as they are stored, packed or not, read piece by piece."""
    if source.path is None:
        return hashlib.sha256(source.data).hexdigest()
    digest = hashlib.sha256()
    with source.path.open("rb") as file:
        while piece := file.read(_PIECE):
            digest.update(piece)
    return digest.hexdigest()


def _absent(collector: Collector, found: Found) -> list[Problem]:
    """Return a problem when series were named and none of them was found."""
    if not collector.wanted or found.series or found.problems:
        return []
    named = ", ".join(sorted(collector.wanted))
    return [
        Problem(
            line=None,
            column=None,
            found=f"none of the series you named ({named})",
            expected="series of this file"
            + (f" ({' '.join(found.remarks)})" if found.remarks else ""),
            remedy="Name them as the file does, or leave the names out.",
        )
    ]


def _unknown(head: str, names: Sequence[str]) -> Found:
    problem = Problem(
        line=1,
        column=None,
        found=f"a layout that {' and '.join(names)} could all be"
        if names
        else f"text that begins '{' '.join(head.split())[:80]}'",
        expected="SDMX-CSV, JSON-stat, a file of ONS, BLS or Statistics Canada, or date,value",
        remedy="Download the data file itself, in one of these forms.",
        code=None if names else Code.UNKNOWN_LAYOUT,
    )
    return Found(series=(), problems=(problem,), remarks=())
