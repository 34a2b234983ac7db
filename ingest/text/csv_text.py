"""Takes a CSV file's bytes apart into rows of cells, each with the physical line it starts on."""

from __future__ import annotations

import io
import re
from dataclasses import dataclass

from ingest.text.encoding import decoded
from ingest.text.limits import LARGEST_FILE, MOST_OWN_LINES, too_large, too_many_lines
from ingest.text.sentences import quoted
from pricing.errors import Problem

LONGEST_ROW = 64 * 1024  # characters; a longer "row" is no row of a table
_QUOTED = re.compile(r'((?:[^"]+|"")*+)"')  # possessive: a doubled mark never ends the cell
_OPENING = re.compile(r'[ \t]*"')
_AFTER = re.compile(r"[ \t]*")
_PLAIN = re.compile(r"[^,\r\n]*")
_DELIMITERS = {";": "semicolons", "\t": "tabs", "|": "upright bars"}


@dataclass(frozen=True, kw_only=True, slots=True)
class RawRow:
    """One row as written."""

    line: int  # physical line on which it starts; the header is 1 unless blank lines precede it
    raw: str  # without its line end
    cells: tuple[str, ...] | None  # trimmed; None when its quotation marks do not add up
    problem: Problem | None = None  # why there are no cells


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """A file taken apart: its header, and its rows in order, blank ones left out."""

    header: RawRow
    rows: tuple[RawRow, ...]


class _BadQuotes(Exception):
    """A row whose quotation marks do not add up; the arguments are those of its Problem."""


def read_sheet(data: bytes) -> Sheet | tuple[Problem, ...]:
    """Return the rows of a CSV file, or why it cannot be read as one.

    Accepts a UTF-8 byte order mark and any line end. A row whose quotation marks do not add up is
    taken to be its first line alone, so that the rows after it are still read.
    """
    if len(data) > LARGEST_FILE:
        return (too_large(len(data)),)
    many = too_many_lines(data, MOST_OWN_LINES)
    if many is not None:
        return (many,)
    text = decoded(data)
    if not isinstance(text, str):
        return text
    lines = list(io.StringIO(text, newline=""))  # splits at \r\n, \n and \r; keeps them
    rows = []
    place = 0
    while place < len(lines):
        taken, row = _row_at(lines, place)
        place += taken
        if row is not None:
            rows.append(row)
    if not rows:
        return (_whole("an empty file", "a header row and at least one row below it"),)
    header = rows[0]
    if header.cells is None:
        return (header.problem,) if header.problem else ()
    wrong = _other_delimiter(header)
    if wrong:
        return (wrong,)
    if len(rows) == 1:
        return (_whole("a header and no rows", "at least one row below the header", header.line),)
    return Sheet(header=header, rows=tuple(rows[1:]))


def _row_at(lines: list[str], place: int) -> tuple[int, RawRow | None]:
    """Return how many physical lines the row at `place` takes, and the row; None when blank."""
    first = lines[place]
    taken = 1
    if len(first) > LONGEST_ROW:
        return 1, RawRow(line=place + 1, raw=_bare(first), cells=None, problem=_too_long(place + 1))
    if '"' not in first:
        cells = tuple(map(str.strip, first.split(",")))
    else:
        try:
            cells, taken = _quoted_cells(lines, place)
        except _BadQuotes as bad:
            found, expected, remedy = bad.args
            problem = Problem(
                line=place + 1, column=None, found=found, expected=expected, remedy=remedy
            )
            return 1, RawRow(line=place + 1, raw=_bare(first), cells=None, problem=problem)
    if not any(cells):
        return taken, None
    raw = _bare("".join(lines[place : place + taken]))
    return taken, RawRow(line=place + 1, raw=raw, cells=cells)


def _quoted_cells(lines: list[str], place: int) -> tuple[tuple[str, ...], int]:
    """Take apart a row with quotation marks (RFC 4180); return its cells and how many lines."""
    text, at, taken = lines[place], 0, 1
    cells: list[str] = []
    while True:
        if opening := _OPENING.match(text, at):
            at = opening.end()
            parts = []
            size = 0
            while not (end := _QUOTED.match(text, at)):
                parts.append(text[at:])
                size += len(parts[-1])
                if place + taken >= len(lines) or size > LONGEST_ROW:
                    raise _BadQuotes(
                        "a quotation mark that is never closed",
                        "a closing quotation mark before the next comma",
                        "Close it, or double it when it belongs to the text.",
                    )
                text, at = lines[place + taken], 0
                taken += 1
            cells.append("".join([*parts, end[1]]).replace('""', '"').strip())
            at = end.end()
            if spaces := _AFTER.match(text, at):
                at = spaces.end()
            if at < len(text) and text[at] not in ",\r\n":
                raise _BadQuotes(
                    f"{quoted(text[at:], most=40)} after a closing quotation mark",
                    "a comma or the end of the row there",
                    "Put the whole cell in quotation marks and double those inside it.",
                )
        else:
            plain = _PLAIN.match(text, at)
            cell = plain[0] if plain else ""
            if '"' in cell:
                raise _BadQuotes(
                    f"a quotation mark inside {quoted(cell, most=40)}",
                    "quotation marks only around a whole cell",
                    "Put the whole cell in quotation marks and double those inside it.",
                )
            cells.append(cell.strip())
            at += len(cell)
        if not text.startswith(",", at):
            return tuple(cells), taken
        at += 1


def _other_delimiter(header: RawRow) -> Problem | None:
    """Return the problem of a header that is one cell to a comma but several to another mark."""
    if header.cells is None or len(header.cells) > 1:
        return None
    for mark, name in _DELIMITERS.items():
        if mark in header.raw:
            return Problem(
                line=header.line,
                column=None,
                found=f"{name} between the columns",
                expected="commas",
                remedy="Save the file again as CSV with commas, and decimals with a point.",
            )
    return None


def _too_long(line: int) -> Problem:
    return Problem(
        line=line,
        column=None,
        found=f"a row of more than {LONGEST_ROW // 1024} KB",
        expected="one row a line",
        remedy="Check that the file is a table, and that its line ends were kept.",
    )


def _whole(found: str, expected: str, line: int | None = None) -> Problem:
    return Problem(
        line=line, column=None, found=found, expected=expected, remedy="Check which file was saved."
    )


def _bare(line: str) -> str:
    return line.rstrip("\r\n")
