"""Lays out rows as an aligned plain-text table for a terminal."""

from __future__ import annotations

import shutil
import textwrap
import unicodedata
from collections.abc import Callable, Sequence
from contextvars import ContextVar
from dataclasses import dataclass


@dataclass(frozen=True)
class Table:
    """A table as it was laid out."""

    headings: Sequence[str]
    rows: Sequence[Sequence[str]]
    right: Sequence[int]  # columns that are set flush right


_LAID_OUT: ContextVar[list[Table] | None] = ContextVar("laid_out", default=None)


def tables_of(text: Callable[[], str]) -> tuple[str, list[Table]]:
    """Return a text, and the tables that were laid out for it."""
    found: list[Table] = []
    mark = _LAID_OUT.set(found)
    try:
        return text(), found
    finally:
        _LAID_OUT.reset(mark)


def _width(text: str) -> int:
    return sum(2 if unicodedata.east_asian_width(each) in "WF" else 1 for each in text)


def _pad(text: str, width: int, right: bool) -> str:
    fill = " " * max(0, width - _width(text))
    return fill + text if right else text + fill


def text_table(
    headings: Sequence[str], rows: Sequence[Sequence[str]], *, right: Sequence[int] = ()
) -> str:
    """Return the table as text; columns numbered in `right` are set flush right.

    The last column is wrapped when the terminal is too narrow for it.
    """
    noted = _LAID_OUT.get()
    if noted is not None:
        noted.append(Table(headings, rows, right))
    widths = [
        max([_width(headings[i]), *(_width(row[i]) for row in rows)]) for i in range(len(headings))
    ]
    room = shutil.get_terminal_size((120, 24)).columns
    last = max(24, room - sum(widths[:-1]) - 2 * (len(widths) - 1))
    widths[-1] = max(1, min(widths[-1], last))
    lines = [_line(headings, widths, right), "  ".join("─" * width for width in widths)]
    lines += [_line(row, widths, right) for row in rows]
    return "\n".join(lines)


def _line(row: Sequence[str], widths: Sequence[int], right: Sequence[int]) -> str:
    wrapped = textwrap.wrap(row[-1], widths[-1]) or [""]
    cells = [_pad(row[i], widths[i], i in right) for i in range(len(row) - 1)]
    cells.append(_pad(wrapped[0], widths[-1], len(row) - 1 in right))
    first = "  ".join(cells).rstrip()
    indent = " " * (sum(widths[:-1]) + 2 * (len(widths) - 1))
    return "\n".join([first, *(indent + each for each in wrapped[1:])])


def wrapped(text: str) -> str:
    """Return a paragraph broken into lines that fit the terminal."""
    return textwrap.fill(text, min(shutil.get_terminal_size((100, 24)).columns, 100))


def listing(pairs: Sequence[tuple[str, str]]) -> str:
    """Return "name   value" lines, aligned."""
    width = max(len(name) for name, _ in pairs)
    return "\n".join(f"{name:<{width}}  {value}" for name, value in pairs)
