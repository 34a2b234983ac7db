"""Looks into a zipped workbook before it is read: what it unpacks to, how many cells it spans."""

from __future__ import annotations

import io
import re
import zipfile
import zlib

from ingest.tables.recognise import no_table
from ingest.text.limits import LARGEST_UNPACKED
from ingest.text.sentences import counted
from pricing.errors import Problem

MOST_PARTS = 10_000
MOST_CELLS = 8_000_000  # that its sheets span, filled or not: a reader makes room for each of them
_SMALLER = "Save the table alone as CSV."
_ROW = re.compile(rb"<(?:x:)?row\b[^>]*?\br=[\"']([0-9]{1,9})[\"']")
_CELL = re.compile(rb"<(?:x:)?c\b[^>]*?\br=[\"']([A-Z]{1,4})([0-9]{1,9})[\"']")
_WIDE = re.compile(rb"<(?:x:)?c\b[^>]*?\br=[\"']([A-Z]{2,4})[0-9]")
_ODS_ROW = re.compile(rb"<table:table-row\b([^>]*)>(.*?)</table:table-row>", re.DOTALL)
_ODS_CELL = re.compile(rb"<table:table-cell\b([^>]*)>")
_TIMES = re.compile(rb"number-(?:rows|columns)-repeated=[\"']([0-9]{1,9})[\"']")
_ODS_FILLED = re.compile(rb"office:value|office:date|office:string|calcext:value|office:formula")


def too_much_inside(data: bytes) -> Problem | None:
    """Return why a workbook is too large to be read, or None. A file that is no zip passes."""
    if not data.startswith(b"PK"):
        return None
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as file:
            return _too_large(file) or _too_wide(file)
    except (zipfile.BadZipFile, zlib.error, EOFError, OSError, ValueError, RuntimeError) as error:
        if "password" in str(error):
            return no_table("a workbook with a password", "Save it without a password.")
        return no_table("a damaged zip or workbook", "Save it or download it again.")


def _too_large(file: zipfile.ZipFile) -> Problem | None:
    parts = file.infolist()
    size = sum(part.file_size for part in parts)
    if size > LARGEST_UNPACKED or len(parts) > MOST_PARTS:
        found = f"a workbook that unpacks to {size // (1024 * 1024):,} MB in {len(parts):,} parts"
        return no_table(found, _SMALLER, f"at most {LARGEST_UNPACKED // (1024 * 1024)} MB")
    return None


def _too_wide(file: zipfile.ZipFile) -> Problem | None:
    """Unpack each part that is read: one that is larger than its entry says fails its checksum."""
    for part in file.infolist():
        name = part.filename
        if name.startswith(("xl/media/", "Pictures/")) or name.endswith("/"):
            continue
        content = file.read(part)
        spanned = 0
        if name.startswith("xl/worksheets/") and name.endswith(".xml"):
            spanned = _spanned(content)
        elif name == "content.xml":
            spanned = _spanned_ods(content)
        if spanned > MOST_CELLS:
            return no_table(
                f"a sheet that spans {counted(spanned, 'cell')}",
                f"Remove what stands far below or beside the table. {_SMALLER}",
                f"at most {MOST_CELLS:,}",
            )
    return None


def _spanned(sheet: bytes) -> int:
    """Return rows × columns of a sheet, as far as its filled cells reach."""
    rows = max((int(row[1]) for row in _ROW.finditer(sheet)), default=sheet.count(b"<row"))
    columns = max((_column(cell[1]) for cell in _WIDE.finditer(sheet)), default=26)
    if rows * columns <= MOST_CELLS:
        return rows * columns
    last_row = last_column = 0
    for cell in _CELL.finditer(sheet):
        end = sheet.find(b">", cell.end())
        if sheet[end - 1 : end] != b"/":
            last_row = max(last_row, int(cell[2]))
            last_column = max(last_column, _column(cell[1]))
    return last_row * last_column


def _column(letters: bytes) -> int:
    """Return the number of a column.

    >>> _column(b"A"), _column(b"AA"), _column(b"XFD")
    (1, 27, 16384)
    """
    number = 0
    for letter in letters:
        number = number * 26 + letter - 64
    return number


def _spanned_ods(content: bytes) -> int:
    """Return rows × columns that filled cells are said to take, with their repeats."""
    rows, widest = 0, 0
    waiting = 0  # blank rows, which count only when a filled one follows
    for row in _ODS_ROW.finditer(content):
        width = place = 0
        for cell in _ODS_CELL.finditer(row[2]):
            place += _times(cell[1])
            if _ODS_FILLED.search(cell[1]):
                width = place
        if width:
            rows += waiting + _times(row[1])
            widest, waiting = max(widest, width), 0
        else:
            waiting += _times(row[1])
    return rows * widest


def _times(attributes: bytes) -> int:
    found = _TIMES.search(attributes)
    return int(found[1]) if found else 1
