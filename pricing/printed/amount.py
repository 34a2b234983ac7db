"""Reads an amount as it was printed ("about 3.50", "from £3") into the one number it holds."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from pricing.errors import MeasureRefused
from pricing.money import currencies_written

_PLAIN = re.compile(r"[0-9]+(?:\.[0-9]+)?|\.[0-9]+")
_NUMBER = re.compile(r"\.?[0-9]+(?:[.,'’][0-9]+)*")
_POINT = re.compile(r"([0-9]*\.[0-9]{1,4}|[0-9]+)")
_COMMA = re.compile(r"[0-9]+,[0-9]{1,2}")
_SMALL = re.compile(r"\s?(?:¢|p|c|ct|cts|cents?|pence|penny|pennies)(?![^\W\d_])", re.IGNORECASE)
_MINUS = ("-", "−", "–")  # the last is typed for one, too


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
    if before.endswith(_MINUS) or _mark().sub("", before).strip() in _MINUS:
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
    """Return the sign or code in a printed amount that is of another currency, if there is one.

    One with letters counts only beside the number and as the table writes it: "all 3" is a word,
    not the lek. One that several currencies have is fine in each of them.

    >>> sign_of_another_currency("from £3", "USD"), sign_of_another_currency("3 kr", "SEK")
    ('£', None)
    """
    number = _NUMBER.search(words or "")
    if words is None or number is None:
        return None
    for mark in _mark().finditer(words):
        between = words[mark.end() : number.start()] + words[number.end() : mark.start()]
        beside = not _mark().sub("", between).strip(" .:–-")  # Rs. 3, 3.- CHF, CAD $3
        counts = beside or not any(map(str.isalpha, mark[0]))
        if counts and currency not in currencies_written()[mark[0]]:
            return mark[0]
    return None


@cache
def _mark() -> re.Pattern[str]:
    """Return the pattern of a sign or code of any currency; its letters touch no others."""
    longest = sorted(currencies_written(), key=lambda each: (-len(each), each))
    return re.compile(
        "|".join(
            (r"(?<![^\W\d_])" if each[0].isalpha() else "")
            + re.escape(each)
            + (r"(?![^\W\d_])" if each[-1].isalpha() else "")
            for each in longest
        )
    )


def _refused(words: str, why: str, remedy: str) -> MeasureRefused:
    return MeasureRefused(
        found=f"'{words}'{why}",
        expected="one amount over 0, such as 3.50 or about 3.50",
        remedy=remedy,
    )
