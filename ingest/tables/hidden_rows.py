"""Finds the rows of a workbook (XLSX) that are hidden: they are read, and it is said."""

from __future__ import annotations

import io
import re
import zipfile

from ingest.tables.formulas import sheet_parts
from ingest.text.sentences import counted, quoted

_HIDDEN = re.compile(
    rb"<row\b(?=[^>]*\bhidden=[\"'](?:1|true)[\"'])[^>]*\br=[\"']([0-9]{1,7})[\"']"
)
_MOST_NAMED = 3


def hidden_rows(data: bytes) -> dict[str, str]:
    """Return sheet → one sentence about its hidden rows; a file that is no XLSX: {}."""
    if not data.startswith(b"PK"):
        return {}
    found = {}
    with zipfile.ZipFile(io.BytesIO(data)) as file:
        parts = set(file.namelist())
        for sheet, part in sheet_parts(file, parts):
            content = file.read(part) if part in parts else b""
            rows = (
                [row.decode() for row in _HIDDEN.findall(content)] if b"hidden" in content else []
            )
            if rows:
                found[sheet] = _sentence(sheet, rows)
    return found


def _sentence(sheet: str, rows: list[str]) -> str:
    more = f" and {len(rows) - _MOST_NAMED:,} more" if len(rows) > _MOST_NAMED else ""
    are = "is" if len(rows) == 1 else "are"
    return (
        f"{counted(len(rows), 'row')} of sheet {quoted(sheet)} {are} hidden in the workbook (row "
        f"{', '.join(rows[:_MOST_NAMED])}{more}): what stands there was read, too."
    )
