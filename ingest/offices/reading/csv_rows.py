"""Takes an office's CSV apart row by row, and lists the rows that cannot be."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Sequence

from ingest.offices.reading.collect import Collector
from ingest.text.sentences import counted


def csv_rows(
    lines: Iterator[str], collector: Collector, delimiter: str = ","
) -> Iterator[tuple[int, list[str]]]:
    """Yield each row with the physical line it ends on; a damaged row is a problem and the last."""
    rows = csv.reader(lines, delimiter=delimiter)
    try:
        for row in rows:
            yield rows.line_num, row
    except csv.Error as error:
        collector.problem(
            rows.line_num, None, f"a row that cannot be taken apart ({error})",
            "one row a line", "The file may be damaged: download it again.",
        )  # fmt: skip


def refuse_header(collector: Collector) -> None:
    """Add the problem of a header without the columns by which the file was recognised."""
    if not collector.problems:  # one that is too long to be taken apart has its problem
        collector.problem(
            1, None, "a header whose quotation marks do not add up", "one name a column",
            "The file may be damaged: download it again.",
        )  # fmt: skip


def refuse_width(row: Sequence[str], width: int, line: int, collector: Collector) -> None:
    """Add the problem of a row with another number of cells than the header."""
    collector.problem(
        line, None, counted(len(row), "cell"), f"{width}, as in the header",
        "The file may be cut off or edited: download it again.",
    )  # fmt: skip
