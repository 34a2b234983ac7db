"""Writes old costings as rows of printed figures, each of the version in force on its day."""

from __future__ import annotations

from collections.abc import Sequence

from ingest.tables.printed_lines import PrintedLine
from ingest.text.csv_text import RawRow, Sheet
from ingest.text.sentences import counted
from pricing.book import known
from pricing.book.connect import Connection
from pricing.book.known import KnownVersion
from pricing.names import name_key

COLUMNS = (
    "dish", "version", "published_on", "cost_per_portion", "currency", "where", "note",
)  # fmt: skip


def printed_sheet(con: Connection, lines: Sequence[PrintedLine]) -> tuple[Sheet, list[str]]:
    """Return the rows of a printed file, and what was decided for the reader.

    A figure that names no version is of the one in force on its day, else of the dish's first.
    """
    dishes = known.dishes(con)
    versions: dict[int, list[KnownVersion]] = {}
    for each in sorted(known.versions(con), key=lambda each: (each.effective_from, each.row_id)):
        versions.setdefault(each.dish_id, []).append(each)
    rows, chosen = [], 0
    for line in lines:
        dish = dishes.get(name_key(line.dish))
        version = line.version or ""
        if not version and dish is not None:
            held = versions[dish[0]]
            begun = [each for each in held if each.effective_from <= line.day]
            version = (begun[-1] if begun else held[0]).version
            chosen += 1
        cells = (
            line.dish,
            version or "1",
            line.day.isoformat(),
            line.words or f"{line.amount:f}",
            line.currency,
            line.where or "",
            line.note or "",
        )
        rows.append(RawRow(line=line.line, raw=line.raw, cells=cells))
    said = []
    if chosen:
        said.append(
            f"{counted(chosen, 'figure')} without a version: taken for the one in force on its day."
        )
    header = RawRow(line=1, raw=",".join(COLUMNS), cells=COLUMNS)
    return Sheet(header=header, rows=tuple(rows)), said
