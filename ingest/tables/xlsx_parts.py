"""Searches the sheets inside a workbook (XLSX) for what a reader of their values leaves out."""

from __future__ import annotations

import html
import io
import re
import zipfile
from collections.abc import Iterator

_SHEET = re.compile(r"<sheet\b[^>]*>")
_RELATION = re.compile(r"<Relationship\b[^>]*>")


def found_in_sheets(data: bytes, what: re.Pattern[bytes], mark: bytes) -> dict[str, list[str]]:
    """Return sheet → the first group of each find of `what`; a sheet without one is left out.

    Only sheets with `mark` in them are searched. A file that is no XLSX: {}.
    """
    if not data.startswith(b"PK"):
        return {}
    with zipfile.ZipFile(io.BytesIO(data)) as file:
        return {
            sheet: [each.decode() for each in found]
            for sheet, content in _sheets(file)
            if mark in content and (found := what.findall(content))
        }


def _sheets(file: zipfile.ZipFile) -> Iterator[tuple[str, bytes]]:
    parts = set(file.namelist())
    for name, part in _parts(file, parts):
        if part in parts:
            yield name, file.read(part)


def _parts(file: zipfile.ZipFile, parts: set[str]) -> list[tuple[str, str]]:
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
