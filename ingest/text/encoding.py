"""Decides whether a file's bytes are UTF-8 text, and if not, what they are instead."""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterable

from ingest.text.signatures import no_text
from pricing.errors import Problem

_SAVE_AS = "Save it again as CSV in UTF-8."
_BOMS = {
    codecs.BOM_UTF32_LE: "UTF-32",  # before UTF-16, whose mark it begins with
    codecs.BOM_UTF32_BE: "UTF-32",
    codecs.BOM_UTF16_LE: "UTF-16",
    codecs.BOM_UTF16_BE: "UTF-16",
}
_HIDDEN = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")
_LINE_END = re.compile(rb"\r\n|\n|\r")


def decoded(data: bytes) -> str | tuple[Problem, ...]:
    """Return the text without its byte order mark, or every reason it is not UTF-8 text."""
    for mark, name in _BOMS.items():
        if data.startswith(mark):
            return (_problem(None, f"a file in {name}", "UTF-8", _SAVE_AS),)
    other = no_text(data)
    if other is not None:
        return (_problem(None, other[0], "a CSV file", other[1]),)
    if _is_bare_utf16(data):
        return (_problem(None, "a file in UTF-16", "UTF-8", _SAVE_AS),)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return tuple(_undecodable(data))
    if re.match(r"\s*<(!doctype|html|head|body)", text[:400], re.IGNORECASE):
        return (_problem(1, "a web page", "a CSV file", "Download the file itself, not its page."),)
    if re.match(r"\s*<\?xml", text[:400]):
        return (_problem(1, "XML", "a CSV file", "An e-invoice is a file of prices: load it so."),)
    if _HIDDEN.search(text):
        return tuple(_hidden(text))
    return text


def _is_bare_utf16(data: bytes) -> bool:
    """Tell UTF-16 without its mark: in plain English text every other byte is zero."""
    start = data[:200]
    return len(start) >= 8 and (
        start[1::2].count(0) * 10 >= len(start) * 4 or start[::2].count(0) * 10 >= len(start) * 4
    )


def _undecodable(data: bytes) -> Iterable[Problem]:
    for number, line in enumerate(_LINE_END.split(data), start=1):
        try:
            line.decode("utf-8")
        except UnicodeDecodeError as error:
            yield _problem(
                number,
                f"the byte 0x{line[error.start]:02X}, which is not UTF-8",
                "a file in UTF-8",
                f"It is perhaps in a Windows or Latin encoding. {_SAVE_AS}",
            )


def _hidden(text: str) -> Iterable[Problem]:
    for number, line in enumerate(re.split(r"\r\n|\n|\r", text), start=1):
        if found := _HIDDEN.search(line):
            code = ord(found[0])
            name = "a NUL byte" if code == 0 else f"the control character 0x{code:02X}"
            yield _problem(
                number, name, "letters, digits and marks", "Remove it, or save the file again."
            )


def _problem(line: int | None, found: str, expected: str, remedy: str) -> Problem:
    return Problem(line=line, column=None, found=found, expected=expected, remedy=remedy)
