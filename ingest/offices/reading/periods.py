"""Reads a period as any office spells it: a month, a quarter, a half-year or a year."""

from __future__ import annotations

import re
from datetime import date
from functools import lru_cache
from typing import NamedTuple

MONTHS = {
    name: number
    for number, name in enumerate(
        ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"), 1
    )
}
_YEAR = re.compile(r"(\d{4})(?:-?A1?)?")
_QUARTER = re.compile(r"(\d{4})[ -]?[QK]([1-4])")  # K: kwartaal, kvartal
_HALF = re.compile(r"(\d{4})[ -]?[SH](?:0?)([12])")
_MONTH = re.compile(r"(\d{4})(?:-M?|M)(\d{2})")
_DAY = re.compile(r"(\d{4})-(\d{2})-(\d{2})(?:T00:00:00(?:\.0+)?Z?)?")
_YEAR_NAME = re.compile(r"(\d{4})[ -]([A-Za-z]{3,9})")
_NAME_YEAR = re.compile(r"([A-Za-z]{3,9})[ -](\d{4}|\d{2})")
_FULL = ("january", "february", "march", "april", "may", "june", "july", "august", "september",
         "october", "november", "december")  # fmt: skip


class Period(NamedTuple):
    """A stretch of time that a value is of."""

    frequency: str  # M, Q, H (half-year) or A (year)
    first: int  # its first month: year × 12 + month − 1


@lru_cache(maxsize=4096)
def read_period(text: str) -> Period | None:
    """Return the period, or None when the text is none. A day stands for its month only when it is
    the first or the last of it; two digits are a year from 1970 to 2069.

    >>> read_period("2026 FEB") == read_period("2026-02") == read_period("2026M02")
    True
    >>> read_period("2025 Q4"), read_period("2025"), read_period("2026-13")
    (Period(frequency='Q', first=24309), Period(frequency='A', first=24300), None)
    """
    text = text.strip()
    if found := _MONTH.fullmatch(text):
        return _month(int(found[1]), int(found[2]))
    if found := _QUARTER.fullmatch(text):
        return Period("Q", int(found[1]) * 12 + 3 * (int(found[2]) - 1))
    if found := _YEAR.fullmatch(text):
        return Period("A", int(found[1]) * 12)
    if found := _DAY.fullmatch(text):
        return _day(int(found[1]), int(found[2]), int(found[3]))
    if found := _HALF.fullmatch(text):
        return Period("H", int(found[1]) * 12 + 6 * (int(found[2]) - 1))
    if found := _YEAR_NAME.fullmatch(text):
        return _month(int(found[1]), _named(found[2]))
    if found := _NAME_YEAR.fullmatch(text):
        year = int(found[2])
        if len(found[2]) == 2:
            year += 1900 if year >= 70 else 2000
        return _month(year, _named(found[1]))
    return None


def read_bls(year: str, period: str) -> Period | None:
    """Return the period of a BLS row: M01 to M12, Q01 to Q04, S01 and S02; M13, Q05 and S03 are
    means of a year.

    >>> read_bls("2025", "M02"), read_bls("2025", "M13").frequency
    (Period(frequency='M', first=24301), 'A')
    """
    if not re.fullmatch(r"\d{4}", year) or not re.fullmatch(r"[MQSA]\d{2}", period):
        return None
    start, kind, number = int(year) * 12, period[0], int(period[1:])
    if kind == "M" and 1 <= number <= 12:
        return Period("M", start + number - 1)
    if kind == "Q" and 1 <= number <= 4:
        return Period("Q", start + 3 * (number - 1))
    if kind == "S" and number in (1, 2):
        return Period("H", start + 6 * (number - 1))
    return Period("A", start) if period in ("M13", "Q05", "S03", "A01") else None


def month_date(month: int) -> date:
    """Return the first day of a month counted from year 0."""
    return date(month // 12, month % 12 + 1, 1)


def month_number(day: date) -> int:
    """Return the month of a day, counted from year 0.

    >>> month_date(month_number(date(2026, 8, 19)))
    datetime.date(2026, 8, 1)
    """
    return day.year * 12 + day.month - 1


def day_in(text: object) -> date | None:
    """Return the day with which a text begins, or None.

    >>> day_in("2026-09-16T08:30"), day_in(None)
    (datetime.date(2026, 9, 16), None)
    """
    try:
        return date.fromisoformat(str(text)[:10])
    except ValueError:
        return None


def _month(year: int, month: int) -> Period | None:
    return Period("M", year * 12 + month - 1) if 1 <= month <= 12 and year > 0 else None


def _day(year: int, month: int, day: int) -> Period | None:
    try:
        found = date(year, month, day)
    except ValueError:
        return None
    last = date.fromordinal(found.toordinal() + 1).day == 1
    return _month(year, month) if found.day == 1 or last else None


def _named(word: str) -> int:
    low = word.lower()
    known = low in MONTHS or low in _FULL or low == "sept"
    return MONTHS[low[:3]] if known else 0
