"""Decides in which encoding a table's text is written."""

from __future__ import annotations

import codecs
import re

from ingest.tables.recognise import no_table
from ingest.text.old_encoding import old_encoding
from pricing.errors import Problem

_BOMS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF32_LE, "utf-32"),  # before UTF-16, whose mark it begins with
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_NAMES = {
    "cp1252": "Windows-1252",
    "cp1250": "Windows-1250",
    "mac_roman": "Mac Roman",
    "iso8859_2": "ISO 8859-2",
}
_HIDDEN = re.compile(r"[\x00-\x08\x0e-\x1f\x7f]")


def decoded(data: bytes) -> tuple[str, str | None] | Problem:
    """Return the text, and what was assumed if its bytes do not say; or why it is no text."""
    for mark, encoding in _BOMS:
        if data.startswith(mark):
            return _by_mark(data, encoding)
    start = data[:400]
    if len(start) >= 8 and start.count(0) * 10 >= len(start) * 4:
        little = start[1::2].count(0) > start[::2].count(0)
        data = (codecs.BOM_UTF16_LE if little else codecs.BOM_UTF16_BE) + data
        return _by_mark(data, "utf-16")
    try:
        return _checked(data.decode("utf-8"), None)
    except UnicodeDecodeError:
        found = old_encoding(data)
    if found is None:
        return _no_text("bytes that are text in no encoding we know")
    name = _NAMES.get(found, found)
    remark = f"The text is not UTF-8; it was read as {name}. Check letters with accents."
    return _checked(data.decode(found, errors="replace"), remark)


def _by_mark(data: bytes, encoding: str) -> tuple[str, str | None] | Problem:
    try:
        return _checked(data.decode(encoding).removeprefix("﻿"), None)
    except UnicodeDecodeError:
        return _no_text(f"a file that says it is {encoding.upper()} and is not")


def _checked(text: str, remark: str | None) -> tuple[str, str | None] | Problem:
    hidden = _HIDDEN.search(text)
    if hidden is None:
        return text, remark
    line = text.count("\n", 0, hidden.start()) + 1
    code = ord(hidden[0])
    name = "a NUL byte" if code == 0 else f"the control character 0x{code:02X}"
    return _no_text(f"{name} in line {line}")


def _no_text(found: str) -> Problem:
    return no_table(found, "Save it again as CSV in UTF-8.", "the text of a table")
