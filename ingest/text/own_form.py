"""Tells by its first bytes whether a file has the columns of its kind as we declare them."""

from __future__ import annotations

import re

from ingest.text.columns import TABLES
from pricing.names import name_key

_HEAD = 64 * 1024  # bytes in which the header stands
_LEAST = 2  # declared names among the headings that make it a file of ours, perhaps with a fault


def is_own(kind: str, data: bytes) -> bool:
    """Tell whether a file is CSV with commas and headings of `kind`, even if some are amiss.

    >>> is_own("prices", b"ingredient,date,price,curency,pack\\n")
    True
    >>> is_own("prices", b"Artikel;Datum;Preis\\n")
    False
    """
    text = data[:_HEAD].decode("utf-8-sig", "replace").lstrip("\r\n \t")
    header = re.split(r"[\r\n]", text, maxsplit=1)[0]
    names = {name_key(cell.strip(' "')) for cell in header.split(",")}
    return len(names & {column.name for column in TABLES[kind]}) >= _LEAST
