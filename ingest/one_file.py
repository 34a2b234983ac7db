"""Takes one file into the book: every problem at once, and all of its rows or none."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass, field
from pathlib import Path

from ingest.kinds import (
    decisions,
    dishes,
    index,
    ingredients,
    measures,
    prices,
    printed,
    swaps,
)
from ingest.kinds.checked import Checked, Options, Stored
from ingest.report import FileReport
from ingest.text.columns import KINDS, TABLES
from ingest.text.header import Heading
from ingest.text.left_empty import without_left_empty
from ingest.text.read_file import ReadFile, read_file
from ingest.text.refused import reasons, refused_text, write_beside
from ingest.text.rows import Row
from ingest.text.sentences import plural, quoted
from pricing.book.append import Columns, Source, append_batch
from pricing.book.connect import Book, Connection, reading, writing
from pricing.errors import InputRefused, Problem

_RULES: Mapping[str, Callable[[Connection, Sequence[Row], Heading, Options], Checked]] = {
    "ingredients": ingredients.check,
    "measures": measures.check,
    "prices": prices.check,
    "dishes": dishes.check,
    "swaps": swaps.check,
    "printed": printed.check,
    "index": index.check,
    "decisions": decisions.check,
}


@dataclass(frozen=True, kw_only=True)
class Incoming:
    """A file's bytes and where they come from."""

    shown: str  # as the user named it
    name: str  # name only
    data: bytes
    beside: Path | None = None  # refused rows are written beside this path
    numbered: bool = True  # the lines of its rows mean something to the user
    read: ReadFile | None = None  # its rows in our own columns, where it has another form
    tables: Mapping[str, Columns] = field(default_factory=dict)  # to be stored beside its rows
    # More such tables, looked up in the transaction that stores them, so that what two processes
    # load at once is stored once; and how many of their rows the book holds already.
    tables_by: Callable[[Connection], tuple[Mapping[str, Columns], int]] = lambda _: ({}, 0)
    # printed figures stored with its prices, in a load that is then one of printed figures
    figures: ReadFile | None = None


def table_of(kind: str) -> str:
    """Return the kind in the declared spelling. Raises InputRefused for any other word."""
    key = kind.strip().casefold()
    if key == "printed_evidence":  # a file of an export, which is one of printed figures
        key = "printed"
    if key == "claims":
        raise InputRefused(
            "Found the kind of file 'claims', the former name of printed figures; expected "
            "'printed'. Load the file with `portiondrift load printed FILE`."
        )
    if key not in TABLES:
        raise InputRefused(
            f"Found the kind of file {quoted(kind)}; expected one of {', '.join(KINDS)}. "
            "Name the kind, then the files."
        )
    return key


def take(
    book: Book, kind: str, file: Incoming, options: Options, *, dry_run: bool, skip_bad: bool
) -> FileReport:
    """Check a file and store it (not in a dry run); with skip_bad, store the rows that are fine."""
    kind = table_of(kind)
    read = _read(kind, file, skip_bad=skip_bad)
    if not isinstance(read, ReadFile):
        return FileReport.refused(file.shown, read)
    heading = read.heading
    door: Callable[[Book], AbstractContextManager[Connection]] = reading if dry_run else writing
    beside: tuple[Path, bool] | None = None
    load = None
    try:
        with door(book) as con:
            checked = _check(con, kind, file, read, options)
            more, held = file.tables_by(con)
            checked.already += held
            problems = _in_order([*read.problems, *checked.problems], heading)
            remarks = [*heading.remarks, *checked.remarks]
            if problems and (checked.whole or not skip_bad):
                return FileReport.refused(file.shown, problems, remarks)
            text = None
            if problems:
                why = reasons(problems, checked.left_out)
                text = refused_text(read.sheet, heading, why, by_cells=file.read is not None)
                remarks += _skipped(why, problems)
                if file.beside is not None and not dry_run:
                    beside = write_beside(file.beside, text)
            if not dry_run:
                load = _store(con, kind, file, checked, more)
    except BaseException:
        if beside is not None and beside[1]:  # nothing was stored, so nothing was refused either
            beside[0].unlink(missing_ok=True)
        raise
    return FileReport(
        file=file.shown,
        load=load,
        added=checked.added,
        already=checked.already,
        problems=tuple(problems),
        refused_file=None if beside is None else str(beside[0]),
        refused_text=text,
        remarks=tuple(remarks),
        waiting=checked.waiting,
    )


def _read(kind: str, file: Incoming, *, skip_bad: bool) -> ReadFile | tuple[Problem, ...]:
    """Return the rows of a file; their cells as written are kept only where rows may be refused."""
    read = file.read or read_file(kind, file.data)
    if not isinstance(read, ReadFile):
        return read
    filled = without_left_empty(kind, read)
    return filled if skip_bad else filled.without_cells()


def _check(con: Connection, kind: str, file: Incoming, read: ReadFile, options: Options) -> Checked:
    """Return what a file's rows add to the book, and the printed figures beside them."""
    checked = _RULES[kind](con, read.rows, read.heading, options)
    if file.figures is None:
        return checked
    rows = file.figures
    figures = printed.check(con, rows.rows, rows.heading, options)
    figures.problems[:0] = rows.problems
    return Checked(
        problems=[*checked.problems, *figures.problems],
        left_out=checked.left_out,
        whole=bool(figures.problems),
        added=checked.added + figures.added,
        already=checked.already + figures.already,
        remarks=[*checked.remarks, *figures.remarks],
        store=lambda con: _both(checked.store(con), figures.store(con)),
    )


def _both(one: Stored, other: Stored) -> Stored:
    return Stored(tables={**one.tables, **other.tables}, touched=one.touched | other.touched)


def _store(
    con: Connection, kind: str, file: Incoming, checked: Checked, more: Mapping[str, Columns]
) -> int | None:
    """Append what was found fine; return the load's number, or None when there is nothing new."""
    stored = checked.store(con)
    both = {**stored.tables, **file.tables, **more}
    tables = {name: dict(columns) for name, columns in both.items() if columns["line"]}
    if not tables:
        return None
    if not file.numbered:
        for columns in tables.values():
            columns["line"] = [None] * len(columns["line"])
    source = Source(
        kind=kind if file.figures is None else "printed",
        file_name=file.name,
        file_sha256=hashlib.sha256(file.data).hexdigest(),
        added=checked.added,
        already=checked.already,
    )
    return append_batch(con, source, tables, stored.touched)


def _in_order(problems: Sequence[Problem], heading: Heading) -> list[Problem]:
    places = {column.name: place for column, place in heading.places}
    return sorted(problems, key=lambda p: (p.line or 0, places.get(p.column or "", -1)))


def _skipped(why: Mapping[int, str], problems: Sequence[Problem]) -> list[str]:
    count, others = len(why), len(set(why) - {each.line for each in problems})
    said = [
        f"{count} {plural(count, 'row')} {'was' if count == 1 else 'were'} refused and left out."
    ]
    if others:
        said.append(f"{others} of them only because of another row; the reasons stand beside them.")
    return said
