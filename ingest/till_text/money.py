"""Reads amounts of money as tills print them: "-0.50", "1.234,50 €", "0.50-"."""

from __future__ import annotations

import re
from decimal import Decimal
from functools import cache

from pricing.money import currencies_written, minor_units

# Beside signs, codes that stand beside amounts in the countries whose words are known.
_CODES = (
    "EUR", "USD", "GBP", "CHF", "SEK", "DKK", "NOK", "PLN", "CAD", "AUD", "NZD", "BRL", "MXN",
)  # fmt: skip
_MINUS = "[-−–]"


@cache
def amount_pattern(currency: str, name: str) -> str:
    """Return the pattern of an amount in a currency's decimals; its groups begin with `name`."""
    digits = minor_units().get(currency, 2)
    decimals = rf"[.,]\d{{{digits}}}" if digits else ""
    sign = f"(?:{signs(currency)})"
    return (
        rf"(?P<{name}_minus>{_MINUS}\s?)?(?:{sign}\s?)?(?P<{name}_minus2>{_MINUS})?"
        rf"(?P<{name}>\d{{1,3}}(?:[.,'’]\d{{3}})+{decimals}|\d{{1,7}}{decimals})(?![\d%])"
        rf"(?:\s?{sign})?(?P<{name}_minus3>\s?{_MINUS}(?![\d.,]))?"
    )


@cache
def signs(currency: str) -> str:
    """Return the pattern of what may stand beside an amount instead of a currency's name."""
    signs = [each for each in currencies_written() if not re.fullmatch("[A-Z]{3}", each)]
    both = sorted({*signs, *_CODES, currency}, key=lambda each: (-len(each), each))
    return "|".join(rf"(?<![A-Za-z]){re.escape(each)}(?![A-Za-z])" for each in both)


def amount_of(match: re.Match[str], name: str, currency: str) -> Decimal:
    """Return the amount that a pattern of `amount_pattern` has found."""
    digits = minor_units().get(currency, 2)
    bare = re.sub(r"\D", "", match[name])
    amount = Decimal(bare).scaleb(-digits)
    below = any(match[f"{name}_{each}"] for each in ("minus", "minus2", "minus3"))
    return -amount if below else amount


def other_currency(text: str, currency: str) -> str | None:
    """Return the sign or code beside an amount that cannot mean this currency, if there is one.

    >>> other_currency("Total 2,50 €", "GBP"), other_currency("Total £2.50", "GBP")
    ('€', None)
    """
    beside = re.compile(rf"({signs(currency)})\s?\d|\d\s?({signs(currency)})")
    for found in beside.finditer(text):
        sign = found[1] or found[2]
        clear = sign in (*_CODES, "kr") or not sign.isascii() or "$" in sign  # RM may be a room
        if clear and currency not in currencies_written().get(sign, {currency}):
            return sign
    return None
