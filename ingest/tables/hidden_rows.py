"""Finds the rows of a workbook (XLSX) that are hidden: they are read, and it is said."""

from __future__ import annotations

import re

from ingest.tables.xlsx_parts import found_in_sheets
from ingest.text.sentences import counted, quoted

_HIDDEN = re.compile(
    rb"<row\b(?=[^>]*\bhidden=[\"'](?:1|true)[\"'])[^>]*\br=[\"']([0-9]{1,7})[\"']"
)
_MOST_NAMED = 3


def hidden_rows(data: bytes) -> dict[str, str]:
    """Return sheet → one sentence about its hidden rows; a file that is no XLSX: {}."""
    found = found_in_sheets(data, _HIDDEN, b"hidden")
    return {sheet: _sentence(sheet, rows) for sheet, rows in found.items()}


def _sentence(sheet: str, rows: list[str]) -> str:
    more = f" and {len(rows) - _MOST_NAMED:,} more" if len(rows) > _MOST_NAMED else ""
    are = "is" if len(rows) == 1 else "are"
    return (
        f"{counted(len(rows), 'row')} of sheet {quoted(sheet)} {are} hidden in the workbook (row "
        f"{', '.join(rows[:_MOST_NAMED])}{more}): what stands there was read, too."
    )
