"""Writes an exact number as a cook does: in decimals where they end, else as a fraction."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

_LARGEST_BOTTOM = 10**4  # up to it decimals that end have 13 places at most


def exact_text(number: Fraction) -> str:
    """Return a number above 0 in exact text that a recipe line of our own columns may hold.

    >>> exact_text(Fraction(5, 2)), exact_text(Fraction(4, 3)), exact_text(Fraction(28))
    ('2.5', '1 1/3', '28')
    """
    bottom = number.denominator
    while bottom % 2 == 0:
        bottom //= 2
    while bottom % 5 == 0:
        bottom //= 5
    if bottom == 1 and number.denominator <= _LARGEST_BOTTOM:
        return f"{Decimal(number.numerator) / number.denominator:f}"
    whole, part = divmod(number, 1)
    return f"{whole} {part}" if whole else str(part)
