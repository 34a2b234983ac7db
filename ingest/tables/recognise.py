"""Tells by its bytes whether a file is a table in text, a workbook, or something else."""

from __future__ import annotations

import io
import re
import zipfile

from ingest.text.sentences import quoted
from ingest.text.signatures import no_text
from pricing.errors import Problem

EXPECTED = "a table: CSV, XLSX, XLS, XLSB or ODS"
_SAVE = "Open it where it was made and save the table as CSV or XLSX."
_OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_PAGE = re.compile(rb"\s*<(!doctype html|html|head|body)", re.IGNORECASE)
_XML = re.compile(rb"\s*<\?xml")


def workbook_or_text(data: bytes) -> str | Problem:
    """Return "workbook" or "text", or why the bytes are no table."""
    if data.startswith(b"PK"):
        return _zip(data)
    if data.startswith(_OLE):
        return _ole(data)
    other = no_text(data)
    if other is not None:
        return no_table(*other)
    start = data[:400].removeprefix(b"\xef\xbb\xbf")
    if _PAGE.match(start):
        return no_table("a web page", "Download the file itself, not its page.")
    if _XML.match(start):
        return no_table("XML", "An e-invoice is a file of prices: load it so.")
    return "text"


def no_table(found: str, remedy: str, expected: str = EXPECTED) -> Problem:
    """Return the problem of a whole file."""
    return Problem(line=None, column=None, found=found, expected=expected, remedy=remedy)


def _zip(data: bytes) -> str | Problem:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as file:
            names = file.namelist()
    except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError):
        return no_table("a damaged zip or workbook", "Save it or download it again.")
    for folder, found in (("word/", "a text document (DOCX)"), ("ppt/", "slides (PPTX)")):
        if any(name.startswith(folder) for name in names):
            return no_table(found, "Save the table in it as CSV or XLSX.")
    if any(name.startswith("xl/") for name in names):
        return "workbook"
    if "content.xml" in names:
        return "workbook"
    inside = quoted(", ".join(names[:3])) if names else "nothing"
    return no_table(f"a zip file that holds {inside}", "Unpack it, and load the tables in it.")


def _ole(data: bytes) -> str | Problem:
    def holds(name: str) -> bool:  # a name in the directory of the file's streams
        return name.encode("utf-16-le") in data

    if holds("EncryptedPackage"):
        return no_table("a workbook with a password", "Save it without a password.")
    if holds("Workbook") or holds("Book"):
        return "workbook"
    if holds("WordDocument"):
        return no_table("a text document (DOC)", "Save the table in it as CSV or XLSX.")
    return no_table("an office file that is no workbook", _SAVE)
