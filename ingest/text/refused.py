"""Writes the rows a load refused beside their file, with the reasons, to be mended."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping, Sequence
from pathlib import Path

from ingest.text.columns import REASON
from ingest.text.csv_text import RawRow, Sheet
from ingest.text.header import Heading
from pricing.errors import InputRefused, Problem


def refused_text(
    sheet: Sheet, heading: Heading, reasons: Mapping[int, str], *, by_cells: bool = False
) -> str:
    """Return a CSV of the rows that start on the lines of `reasons`: as written, a reason last.

    `by_cells`: rows are written in our columns, since they were not in the file.
    """
    lines = [f"{_as_written(sheet.header, heading)},{REASON}"]
    for row in sheet.rows:
        if row.line in reasons:
            if by_cells and row.cells is not None:
                written = _cells(row.cells)
            else:
                written = _as_written(row, heading)
            lines.append(f"{written},{_cells([reasons[row.line]])}")
    return "\n".join(lines) + "\n"


def with_unread(sheet: Sheet, unread: Mapping[int, str]) -> Sheet:
    """Return a sheet of our columns with rows that were not read, as written, in their notes."""
    names = sheet.header.cells or ()
    rows = [
        RawRow(line=line, raw=raw, cells=tuple(raw if name == "note" else "" for name in names))
        for line, raw in unread.items()
    ]
    ordered = sorted([*sheet.rows, *rows], key=lambda row: row.line)
    return Sheet(header=sheet.header, rows=tuple(ordered))


def reasons(problems: Sequence[Problem], left_out: Mapping[int, str]) -> dict[int, str]:
    """Return line → every reason that its row was refused."""
    found: dict[int, list[str]] = {}
    for each in problems:
        if each.line is not None:
            column = f"{each.column}: " if each.column else ""
            found.setdefault(each.line, []).append(
                f"{column}found {each.found}; expected {each.expected}. {each.remedy}"
            )
    for line, why in left_out.items():
        found.setdefault(line, [why])
    return {line: " ".join(whys) for line, whys in found.items()}


def write_beside(path: Path, text: str) -> tuple[Path, bool]:
    """Write `text` beside `path` as NAME.refused.csv; return that path, and whether it is new.

    A file of that name with other content stays as it is: a number is put before the ending.
    Raises InputRefused when the folder cannot be written.
    """
    stem = re.sub(r"(\.[0-9]+)?\.refused$", "", path.stem)
    number = 1
    while True:
        target = path.with_name(f"{stem}{'' if number == 1 else f'.{number}'}.refused.csv")
        try:
            with target.open("x", encoding="utf-8", newline="") as file:
                file.write(text)
            return target, True
        except FileExistsError:
            if target.is_file() and target.read_bytes() == text.encode():
                return target, False
        except OSError as error:
            target.unlink(missing_ok=True)
            raise InputRefused(
                f"Cannot write the refused rows to {target}: {error.strerror or error}; nothing "
                "was stored. Make the folder writable, or load the file without --skip-bad."
            ) from error
        number += 1


def _as_written(row: RawRow, heading: Heading) -> str:
    """Return the raw row, without the reason that an earlier load put there."""
    if heading.reason_at is None or row.cells is None or len(row.cells) != heading.width:
        return row.raw
    return _cells([c for place, c in enumerate(row.cells) if place != heading.reason_at])


def _cells(cells: Sequence[str]) -> str:
    out = io.StringIO()
    csv.writer(out, lineterminator="").writerow(cells)
    return out.getvalue()
