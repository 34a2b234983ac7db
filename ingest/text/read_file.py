"""Reads a CSV file of a kind: its header matched and every cell read, or why it cannot be."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ingest.text.columns import TABLES
from ingest.text.csv_text import Sheet, read_sheet
from ingest.text.header import Heading, match_header
from ingest.text.rows import Row, read_rows
from pricing.errors import Problem


@dataclass(frozen=True, kw_only=True)
class ReadFile:
    """A file whose header can be used; cells that cannot be read have their problems."""

    sheet: Sheet
    heading: Heading
    rows: list[Row]
    problems: list[Problem]

    def without_cells(self) -> ReadFile:
        """Return it without its cells as written, which only refused rows need: they are large."""
        return replace(self, sheet=replace(self.sheet, rows=()))


def read_file(kind: str, data: bytes) -> ReadFile | tuple[Problem, ...]:
    """Return the rows of a file of a kind of `TABLES`, or every reason it cannot be read at all."""
    sheet = read_sheet(data)
    return read_columns(kind, sheet) if isinstance(sheet, Sheet) else sheet


def read_columns(kind: str, sheet: Sheet) -> ReadFile | tuple[Problem, ...]:
    """Return the rows of a sheet with the columns of a kind, as `read_file`."""
    heading = match_header(sheet.header, TABLES[kind])
    if not isinstance(heading, Heading):
        return heading
    rows, problems = read_rows(sheet, heading, TABLES[kind])
    return ReadFile(sheet=sheet, heading=heading, rows=rows, problems=problems)
