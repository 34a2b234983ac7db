"""What a file is that is no text: told by its first bytes, with what to do instead."""

from __future__ import annotations

ZIP, OLD_OFFICE, PDF = b"PK\x03\x04", b"\xd0\xcf\x11\xe0", b"%PDF"
_OPEN = "Open it, and copy its text, or save its table as CSV."
_UNPACK = "Unpack it first."
_TYPE = "Type its lines, or take the text or table it was made from."
_STARTS = (
    (ZIP, "a workbook, a document or a zip file", _OPEN),
    (OLD_OFFICE, "an old office file", _OPEN),
    (PDF, "a PDF", "Copy its text or its table; an e-invoice in PDF loads as a file of prices."),
    (b"{\\rtf", "a text with its layout (RTF)", _OPEN),
    (b"SQLite format 3", "a database", _OPEN),
    (b"bplist00", "a web archive", "Save the page as HTML alone, and load that."),
    (b"\x1f\x8b", "a compressed file", _UNPACK),
    (b"7z\xbc\xaf", "a compressed file", _UNPACK),
    (b"Rar!", "a compressed file", _UNPACK),
    (b"\x89PNG", "a picture", _TYPE),
    (b"\xff\xd8\xff", "a picture", _TYPE),
    (b"GIF8", "a picture", _TYPE),
    (b"II*\x00", "a picture", _TYPE),
    (b"MM\x00*", "a picture", _TYPE),
    (b"RIFF", "a picture, a sound or a film", _TYPE),
)  # fmt: skip
_FILM = b"ftyp"  # after the length of its first part


def no_text(data: bytes) -> tuple[str, str] | None:
    """Return what bytes are and what to do, where they are known to be no text; else None.

    >>> no_text(b"\\x1f\\x8b\\x08"), no_text(b"leek,1.20")
    (('a compressed file', 'Unpack it first.'), None)
    """
    for start, found, remedy in _STARTS:
        if data.startswith(start):
            return found, remedy
    return ("a picture or a film", _TYPE) if data[4:8] == _FILM else None
