"""Tells by its first bytes whether a file has the columns of its kind as we declare them."""

from __future__ import annotations

import re

from ingest.text.columns import TABLES
from pricing.names import name_key

_HEAD = 64 * 1024  # bytes in which the header stands
_LEAST = 2  # declared names among the headings that make it a file of ours, perhaps with a fault
# Kinds whose tables may have any headings, and the names among ours that are nobody else's
_TELLING = {"prices": {"ingredient"}, "printed": {"cost_per_portion", "published_on"}}


def is_own(kind: str, data: bytes) -> bool:
    """Tell whether a file is CSV with commas and headings of `kind`, even if some are amiss.

    >>> is_own("prices", b"ingredient,date,price,curency,pack\\n")
    True
    >>> is_own("prices", b"Artikel;Datum;Preis\\n")
    False
    >>> is_own("prices", b"Date,Item,Price\\n")  # words of everyone's tables
    False
    """
    text = data[:_HEAD].decode("utf-8-sig", "replace").lstrip("\r\n \t")
    header = re.split(r"[\r\n]", text, maxsplit=1)[0]
    names = {name_key(cell.strip(' "')) for cell in header.split(",")}
    columns = TABLES[kind]
    if len(names & {column.name for column in columns}) < _LEAST:
        return False
    missing = {column.name for column in columns if column.required} - names
    if kind not in _TELLING or not missing or names & _TELLING[kind]:
        return True
    # a table, unless nothing but one column lacks and no other may take its place
    others = names - {column.name for column in columns}
    return len(missing) == 1 and not others and ("product" not in names or "tax_pct" in names)
