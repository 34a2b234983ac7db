"""Reads an amount as it was printed ("about 3.50", "from £3") into the one number it holds."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from pricing.errors import MeasureRefused

_PLAIN = re.compile(r"[0-9]+(?:\.[0-9]+)?|\.[0-9]+")
_NUMBER = re.compile(r"\.?[0-9]+(?:[.,'’][0-9]+)*")
_POINT = re.compile(r"([0-9]*\.[0-9]{1,4}|[0-9]+)")
_COMMA = re.compile(r"[0-9]+,[0-9]{1,2}")
_SMALL = re.compile(r"\s?(?:¢|p|c|ct|cts|cents?|pence|penny|pennies)(?![^\W\d_])", re.IGNORECASE)
_MINUS = ("-", "−", "–")  # the last is typed for one, too
_SIGNS = {"£": "GBP", "€": "EUR", "¥": "JPY", "₹": "INR"}  # "$" is that of many countries


@dataclass(frozen=True, kw_only=True)
class PrintedAmount:
    """An amount as it was printed."""

    amount: Decimal  # more than 0
    words: str | None  # as printed, where they are not the number alone


def read_printed_amount(text: str) -> PrintedAmount:
    """Return the number in a printed amount, and its words if they say more than the number.

    >>> read_printed_amount("about 3.50"), read_printed_amount("3,50").amount
    (PrintedAmount(amount=Decimal('3.50'), words='about 3.50'), Decimal('3.50'))

    Raises MeasureRefused for no number or several, and for one that could be read in two ways.
    """
    words = " ".join(text.split())
    found = list(_NUMBER.finditer(words))
    others = [sign for sign in _NUMBER.sub("", words) if sign.isnumeric()]  # ½, ², other digits
    if len(found) != 1 or others:
        many = "no number" if not found and not others else "more than one number"
        raise _refused(words, f", which holds {many}", "Write the one amount that was printed.")
    number, before, after = found[0][0], words[: found[0].start()], words[found[0].end() :]
    if before.endswith(_MINUS) or before.strip(" $£€¥₹") in _MINUS:
        raise _refused(words, "", "Leave out the minus sign, or correct the number.")
    if after.lstrip().startswith("%"):
        raise _refused(words, ", a percentage", "Write the amount of money.")
    if _SMALL.match(after):
        raise _refused(words, ", in hundredths", "Write it in whole units of money, such as 0.75.")
    if _COMMA.fullmatch(number):
        number = number.replace(",", ".")
    elif not _POINT.fullmatch(number):
        remedy = "Write it without marks between thousands, with at most 4 decimals after a point."
        raise _refused(words, "", remedy)
    amount = Decimal(number)
    if amount <= 0 or amount >= 10**14:
        raise _refused(words, "", "Correct the number.")
    return PrintedAmount(amount=amount, words=None if _PLAIN.fullmatch(words) else words)


def sign_of_another_currency(words: str | None, currency: str) -> str | None:
    """Return the sign in the words that is of another currency, if there is one.

    >>> sign_of_another_currency("from £3", "USD"), sign_of_another_currency("from £3", "GBP")
    ('£', None)
    """
    return next(
        (sign for sign, code in _SIGNS.items() if sign in (words or "") and code != currency), None
    )


def _refused(words: str, why: str, remedy: str) -> MeasureRefused:
    return MeasureRefused(
        found=f"'{words}'{why}",
        expected="one amount over 0, such as 3.50 or about 3.50",
        remedy=remedy,
    )
