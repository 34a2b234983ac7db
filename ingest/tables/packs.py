"""Reads the pack that a column states, into the words that packs are read in."""

from __future__ import annotations

import re
from decimal import Decimal
from functools import cache

from ingest.tables.numbers import AMBIGUOUS, decimal_mark, read_number
from ingest.tables.words import measured_words, unit_named

_NUMBER = r"[0-9]+(?:[.,'’][0-9]+)*"


def pack_words(text: str, decimal: str) -> str | None:
    """Return a pack as `read_pack` reads it, or None where the text is none.

    A comma or point with other than three digits behind it is a decimal mark; else `decimal` says.

    >>> pack_words("0,5 kg", "."), pack_words("6 x 330ml", ""), pack_words("12 Stk.", "")
    ('0.5 kg', '6 x 330 ml', '12 each')
    """
    match = _pattern().fullmatch(text.strip())
    if match is None:
        return None
    unit = unit_named(match[3])
    amount = _number(match[2], decimal)
    times = _number(match[1], decimal) if match[1] else None
    if not unit or amount is None or amount <= 0 or (match[1] and not times):
        return None
    one = f"{amount:f} {unit}"
    return one if times is None else f"{times:f} x {one}"


def per_unit(text: str) -> str | None:
    """Return the pack that a unit alone stands for: "kg" is the price of 1 kg.

    >>> per_unit("Kilo"), per_unit("100 g"), per_unit("Karton")
    ('1 kg', '100 g', None)
    """
    unit = unit_named(text)
    return f"1 {unit}" if unit else pack_words(text, "")


def _number(text: str, decimal: str) -> Decimal | None:
    mark = decimal_mark(text)
    return read_number(text, decimal if mark in (None, AMBIGUOUS) else mark or "")


@cache
def _pattern() -> re.Pattern[str]:
    words = f"{measured_words()}|[^\\W\\d_]+"
    return re.compile(
        rf"(?:({_NUMBER})\s*[x×*]\s*)?({_NUMBER})\s*({words})\.?", re.IGNORECASE
    )  # fmt: skip
