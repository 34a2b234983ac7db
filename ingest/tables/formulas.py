"""Finds the formulas of a workbook (XLSX) whose values were not stored with them."""

from __future__ import annotations

import html
import io
import re
import zipfile

from ingest.text.sentences import quoted

_FORMULA = re.compile(
    rb"<c\b[^>]*?\br=[\"']([A-Z]{1,3}[0-9]{1,7})[\"'][^>]*>\s*<f\b(?:[^>]*/>|[^<]*</f>)"
    rb"\s*(?:<v\s*/>|<v>\s*</v>)?\s*</c>"
)
_SHEET = re.compile(r"<sheet\b[^>]*>")
_RELATION = re.compile(r"<Relationship\b[^>]*>")
_MOST_NAMED = 3


def without_values(data: bytes) -> dict[str, str]:
    """Return sheet → one sentence about its formulas without a value; a file that is no XLSX: {}.

    A spreadsheet stores what a formula came to; a program that only writes a file may not.
    """
    if not data.startswith(b"PK"):
        return {}
    found = {}
    with zipfile.ZipFile(io.BytesIO(data)) as file:
        parts = set(file.namelist())
        for sheet, part in sheet_parts(file, parts):
            content = file.read(part) if part in parts else b""
            cells = (
                [cell.decode() for cell in _FORMULA.findall(content)] if b"<f" in content else []
            )
            if cells:
                found[sheet] = _sentence(sheet, cells)
    return found


def _sentence(sheet: str, cells: list[str]) -> str:
    named = ", ".join(cells[:_MOST_NAMED])
    more = f" and {len(cells) - _MOST_NAMED:,} more" if len(cells) > _MOST_NAMED else ""
    if len(cells) == 1:
        holds = f"Cell {named} of sheet {quoted(sheet)} holds a formula whose value is"
    else:
        holds = f"Cells {named}{more} of sheet {quoted(sheet)} hold formulas whose values are"
    return f"{holds} not stored: open the workbook in a spreadsheet and save it there."


def sheet_parts(file: zipfile.ZipFile, parts: set[str]) -> list[tuple[str, str]]:
    """Return each sheet's name and the part that holds it."""
    names = ("xl/workbook.xml", "xl/_rels/workbook.xml.rels")
    if not parts.issuperset(names):
        return []
    book, relations = (file.read(name).decode("utf-8", "replace") for name in names)
    target = {
        _attribute(each, "Id"): _attribute(each, "Target").removeprefix("/xl/")
        for each in _RELATION.findall(relations)
    }
    return [
        (
            _attribute(each, "name"),
            "xl/" + target.get(_attribute(each, "r:id"), "").removeprefix("/xl/"),
        )
        for each in _SHEET.findall(book)
    ]


def _attribute(tag: str, name: str) -> str:
    found = re.search(rf"\s{name}=(?:\"([^\"]*)\"|'([^']*)')", tag)
    return html.unescape(found[1] or found[2] or "") if found else ""
