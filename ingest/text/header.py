"""Matches a file's header to the declared columns of its kind."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ingest.text.columns import REASON, Column
from ingest.text.csv_text import RawRow
from ingest.text.sentences import quoted
from pricing.errors import Problem
from pricing.names import name_key, nearest


@dataclass(frozen=True, kw_only=True)
class Heading:
    """Where the declared columns stand in a file."""

    width: int  # cells in the header
    places: tuple[tuple[Column, int], ...]  # column → its place in a row, from 0
    reason_at: int | None  # place of the column that --skip-bad added
    remarks: tuple[str, ...]

    def has(self, column: str) -> bool:
        """Tell whether the file has this column at all."""
        return any(each.name == column for each, _ in self.places)


def match_header(header: RawRow, columns: Sequence[Column]) -> Heading | tuple[Problem, ...]:
    """Return where each declared column stands, or every reason the header cannot be used.

    Names compare trimmed and case folded. Other columns are left out, with a remark.
    """
    written = [name_key(cell) for cell in header.cells or ()]
    known = {name_key(column.name): column for column in columns}
    problems = [*_twice(header, written), *_missing(header, written, columns)]
    if problems:
        return tuple(problems)
    others = [
        place for place, key in enumerate(written) if key and key not in known and key != REASON
    ]
    absent = [column.name for column in columns if name_key(column.name) not in written]
    return Heading(
        width=len(written),
        places=tuple((known[key], place) for place, key in enumerate(written) if key in known),
        reason_at=written.index(REASON) if REASON in written else None,
        remarks=tuple(_unknown((header.cells or ())[place], absent) for place in others),
    )


def _twice(header: RawRow, written: list[str]) -> Iterator[Problem]:
    for key in dict.fromkeys(written):
        if key and written.count(key) > 1:
            yield Problem(
                line=header.line,
                column=key,
                found=f"the column {quoted(key)} {written.count(key)} times",
                expected="each column once",
                remedy="Rename or remove one of them.",
            )


def _missing(header: RawRow, written: list[str], columns: Sequence[Column]) -> Iterator[Problem]:
    declared = {name_key(column.name) for column in columns}
    spare = [key for key in written if key and key not in declared]
    for column in columns:
        if column.required and name_key(column.name) not in written:
            near = nearest(column.name, spare, most=1)
            required = ", ".join(each.name for each in columns if each.required)
            yield Problem(
                line=header.line,
                column=column.name,
                found=f"no column {quoted(column.name)}",
                expected=f"a header with {required}",
                remedy=f"Rename the column {quoted(near[0])}." if near else "Add the column.",
            )


def _unknown(written: str, absent: list[str]) -> str:
    near = nearest(written, absent, most=1)
    hint = f" Did you mean {quoted(near[0])}?" if near else ""
    return f"The column {quoted(written)} is not read.{hint}"
