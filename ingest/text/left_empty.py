"""Leaves out the rows of a list of prices to check whose price was not filled in."""

from __future__ import annotations

from dataclasses import replace

from ingest.text.read_file import ReadFile
from ingest.text.rows import Row
from ingest.text.sentences import counted

TO_CHECK = "price to check"  # the note of such a row; elsewhere an empty price is a problem


def without_left_empty(kind: str, read: ReadFile) -> ReadFile:
    """Return a prices file without its rows to check that have no price, and a remark on them."""
    if kind != "prices":
        return read
    empty = {row.line for row in read.rows if row.whole and _left_empty(read, row)}
    if not empty:
        return read
    said = (
        f"{counted(len(empty), 'price')} to check {'was' if len(empty) == 1 else 'were'} left "
        "empty and not loaded."
    )
    return replace(
        read,
        rows=[row for row in read.rows if row.line not in empty],
        problems=[each for each in read.problems if each.line not in empty],
        heading=replace(read.heading, remarks=(*read.heading.remarks, said)),
    )


def _left_empty(read: ReadFile, row: Row) -> bool:
    if row.value.get("note") != TO_CHECK or "price" not in row.bad:
        return False
    return any(
        each.line == row.line and each.column == "price" and each.found == "an empty cell"
        for each in read.problems
    )
