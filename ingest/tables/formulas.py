"""Finds the formulas of a workbook (XLSX) whose values were not stored with them."""

from __future__ import annotations

import re

from ingest.tables.xlsx_parts import found_in_sheets
from ingest.text.sentences import quoted

_FORMULA = re.compile(
    rb"<c\b[^>]*?\br=[\"']([A-Z]{1,3}[0-9]{1,7})[\"'][^>]*>\s*<f\b(?:[^>]*/>|[^<]*</f>)"
    rb"\s*(?:<v\s*/>|<v>\s*</v>)?\s*</c>"
)
_MOST_NAMED = 3


def without_values(data: bytes) -> dict[str, str]:
    """Return sheet → one sentence about its formulas without a value; a file that is no XLSX: {}.

    A spreadsheet stores what a formula came to; a program that only writes a file may not.
    """
    found = found_in_sheets(data, _FORMULA, b"<f")
    return {sheet: _sentence(sheet, cells) for sheet, cells in found.items()}


def _sentence(sheet: str, cells: list[str]) -> str:
    named = ", ".join(cells[:_MOST_NAMED])
    more = f" and {len(cells) - _MOST_NAMED:,} more" if len(cells) > _MOST_NAMED else ""
    if len(cells) == 1:
        holds = f"Cell {named} of sheet {quoted(sheet)} holds a formula whose value is"
    else:
        holds = f"Cells {named}{more} of sheet {quoted(sheet)} hold formulas whose values are"
    return f"{holds} not stored: open the workbook in a spreadsheet and save it there."
