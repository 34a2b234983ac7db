"""Writes a quantity of an e-invoice as a pack: 5 KGM is 5 kg."""

from __future__ import annotations

from decimal import Decimal
from functools import cache

from pricing.reference.table import read_table


@cache
def _units() -> dict[str, tuple[str, Decimal]]:
    """Return code → unit of packs and how many of it. Source: `unit_codes.csv` in this folder."""
    rows = read_table("unit_codes.csv", __package__)
    return {row["code"]: (row["unit"], Decimal(row["times"])) for row in rows}


def pack_words(quantity: Decimal, code: str) -> str | None:
    """Return so many of a unit as a pack; None for a code that is no weight, volume or count.

    >>> pack_words(Decimal("5.000"), "KGM"), pack_words(Decimal(2), "DZN")
    ('5 kg', '24 each')
    >>> pack_words(Decimal(1), "MTR") is None
    True
    """
    if code not in _units():
        return None
    unit, times = _units()[code]
    number = f"{quantity * times:f}"
    return f"{number.rstrip('0').rstrip('.') if '.' in number else number} {unit}"


def counts_of(quantity: Decimal, code: str) -> tuple[Decimal, str] | None:
    """Return how many pieces or packages so many of a unit are, and what one is called.

    None for a weight, a volume and a code that is none of these.

    >>> counts_of(Decimal(3), "XBX"), counts_of(Decimal(2), "DZN"), counts_of(Decimal(1), "KGM")
    ((Decimal('3'), 'box'), (Decimal('24'), 'each'), None)
    """
    if code not in _units():
        return None
    unit, times = _units()[code]
    return (quantity * times, unit) if unit == "each" or code.startswith("X") else None
