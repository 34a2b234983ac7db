"""Checks the number of a trade item by its last digit.

Source: GS1, "How to calculate a check digit manually", https://www.gs1.org/how-calculate-check-digit-manually
"""

from __future__ import annotations

import re

_GTIN = re.compile(r"[0-9]{8}|[0-9]{12,14}")


def is_gtin(text: str) -> bool:
    """Tell whether a text is a GTIN of 8, 12, 13 or 14 digits whose last digit is right.

    From the right, digits before the last count three times and once in turn; with the last they
    add up to a multiple of ten.

    >>> is_gtin("6291041500213"), is_gtin("6291041500212")
    (True, False)
    """
    if not _GTIN.fullmatch(text):
        return False
    total = sum(int(digit) * (3 if place % 2 else 1) for place, digit in enumerate(text[::-1]))
    return total % 10 == 0
