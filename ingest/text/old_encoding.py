"""Tells which encoding from before Unicode a text seems to be in."""

from __future__ import annotations

import re

_HIGH = re.compile(rb"[\x80-\xff]+")
_MARKS = "€£§°®–—’\u2018“”„…×½¼\xa0"
# Letters of the languages that write in each of the commonest old encodings.
_WEST = "äöüßéèêëàâçîïôùûœñáíóúãõåøæìò"
_POLISH = "ąćęłńóśźżäöüßé"
_LETTERS = {
    "cp1252": set(_WEST + _WEST.upper() + _MARKS),
    "cp1250": set(_POLISH + _POLISH.upper() + _MARKS),
    "iso8859_2": set(_POLISH + _POLISH.upper() + "§°×\xa0"),
}


def old_encoding(data: bytes) -> str | None:
    """Return the encoding whose letters fit most of the bytes over 127; None where none does."""
    high = b"".join(_HIGH.findall(data[:2_000_000]))
    share = {}
    for encoding, letters in _LETTERS.items():
        text = high.decode(encoding, errors="replace")
        share[encoding] = sum(each in letters for each in text) / len(text)
    best = max(share, key=lambda each: share[each])  # of equals the first
    if share[best] > 0.95:
        return best
    from charset_normalizer import from_bytes  # where these do not fit: it takes its time

    found = from_bytes(data[:200_000]).best()
    if found is not None:
        return found.encoding
    return best if share[best] > 0.8 else None
