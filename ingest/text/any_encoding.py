"""Turns the bytes of a text into characters, whatever it was saved as; refuses what is no text."""

from __future__ import annotations

import codecs
import re

from ingest.text.limits import LARGEST_TEXT
from ingest.text.old_encoding import old_encoding
from ingest.text.signatures import no_text
from pricing.errors import Problem

_MARKS = (  # UTF-32 before UTF-16, whose mark it begins with
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_DECLARED = re.compile(rb"<meta[^<>]{0,200}?charset\s*=\s*[\"']?([\w.:-]{2,20})", re.IGNORECASE)


def read_any_text(data: bytes, expected: str) -> str | Problem:
    """Return the characters of a text, or why it is none; `expected` is for that sentence.

    Read as its byte order mark says, else as UTF-8, as a page declares, or as the likeliest of the
    older encodings.

    >>> read_any_text("crème".encode("cp1252"), "a text")
    'crème'
    """
    if len(data) > LARGEST_TEXT:
        return _problem(
            f"a file of {len(data) // (1024 * 1024)} MB",
            f"{expected} of at most {LARGEST_TEXT // (1024 * 1024)} MB",
            "Copy what you need of it into a text of its own.",
        )
    other = no_text(data)
    if other is not None:
        return _problem(other[0], expected, other[1])
    text = _decoded(data)
    if text is None or "\x00" in text:
        return _problem(
            "bytes that are no text", expected, "Save it as plain text in UTF-8, and load that."
        )
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _decoded(data: bytes) -> str | None:
    for mark, name in _MARKS:
        if data.startswith(mark):
            return _as(data, name)
    text = _as(data, "utf-8")
    if text is not None:
        return text
    declared = _DECLARED.search(data[:4096])
    if declared:
        text = _as(data, declared[1].decode("ascii"))
    return text if text is not None else _as(data, old_encoding(data) or "cp1252", "replace")


def _as(data: bytes, name: str, errors: str = "strict") -> str | None:
    try:
        return data.decode(name, errors)
    except (UnicodeError, LookupError):
        return None


def _problem(found: str, expected: str, remedy: str) -> Problem:
    return Problem(line=None, column=None, found=found, expected=expected, remedy=remedy)
