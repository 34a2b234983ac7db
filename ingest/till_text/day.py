"""Finds the day of a receipt; an order of day and month that could be two is asked, not guessed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date

from ingest.text.fold import fold
from ingest.text.months import months
from ingest.text.sentences import quoted
from pricing.errors import Problem

_NUMBERS = re.compile(
    r"(?<![\d.,/-])(?:(?P<year>(?:19|20)\d\d)(?P<mark>[-./])(?P<m>\d{1,2})(?P=mark)(?P<d>\d{1,2})"
    r"|(?P<first>\d{1,2})(?P<sign>[-./])\s?(?P<second>\d{1,2})(?P=sign)\s?(?P<last>(?:20)?\d\d))"
    r"(?![\d,/])"
)
_DAY_FIRST = re.compile(
    r"(?<!\d)(?P<d>\d{1,2})(?:st|nd|rd|th|\.|º)?[\s-](?:(?:of|de|del)\s)?(?P<month>[^\W\d_]{3,10})"
    r"\.?,?[\s-](?:(?:de|del)\s)?(?P<year>20\d\d|'?\d\d(?!\d|:))",
    re.IGNORECASE,
)
_MONTH_FIRST = re.compile(
    r"(?<!\w)(?P<month>[^\W\d_]{3,10})\.?\s(?P<d>\d{1,2})(?:st|nd|rd|th)?,?\s(?P<year>20\d\d)",
    re.IGNORECASE,
)
_TIME = re.compile(r"(?<!\d)[0-2]?\d[:.h][0-5]\d(?!\d)")
_TOLD = "Tell the day of the receipt: it is not guessed."


def has_date(line: str) -> bool:
    """Tell whether a line holds a date.

    >>> has_date("24.11.2026 18:04"), has_date("Milk 2.50")
    (True, False)
    """
    return any(True for _ in _dates(line))


def find_day(lines: list[tuple[int, str]], today: date) -> tuple[date | None, Problem | None]:
    """Return the day of a receipt, or why there is none: of its dates, one beside a time first.

    A date that can be read in one order alone settles the order of the others.

    >>> find_day([(1, "13/02/2026"), (2, "03/02/2026 18:04")], date(2026, 3, 1))[0]
    datetime.date(2026, 2, 3)
    """
    found = [(number, line, text, days) for number, line in lines for text, days in _dates(line)]
    if not found:
        return None, _problem(None, "a receipt without a date", "the day on it", _TOLD)
    orders = [set(days) for *_, days in found if len(set(days.values())) == 1 and len(days) == 1]
    settled = set.intersection(*orders) if orders else set()
    found.sort(key=lambda each: not _TIME.search(each[1].replace(each[2], "")))
    number, _, text, days = found[0]
    if len(settled) == 1 and (order := settled.copy().pop()) in days:
        days = {order: days[order]}
    different = sorted(set(days.values()))
    # nobody was at a till tomorrow: of two days that one alone is past is certain
    different = [each for each in different if each <= today] or different
    if len(different) > 1:
        both = " or ".join(each.isoformat() for each in different)
        return None, _problem(
            number, f"the date {quoted(text)}, which may be {both}", "a date of one meaning", _TOLD
        )
    if different[0] > today:
        return None, _problem(
            number, f"the date {different[0]}, which is after today", f"a day up to {today}", _TOLD
        )
    return different[0], None


def _dates(line: str) -> Iterator[tuple[str, dict[str, date]]]:
    """Yield the dates of a line: their text, and order -> day; "any" where nothing is in doubt."""
    for match in _NUMBERS.finditer(line):
        if days := _by_order(match):
            yield match[0], days
    for pattern in (_DAY_FIRST, _MONTH_FIRST):
        for match in pattern.finditer(line):
            month = months().get(fold(match["month"]))
            day = _day(match["year"].strip("'"), str(month), match["d"]) if month else None
            if day:
                yield match[0], {"any": day}


def _by_order(match: re.Match[str]) -> dict[str, date]:
    if match["year"]:
        day = _day(match["year"], match["m"], match["d"])
        return {"any": day} if day else {}
    first, second, last, sign = (match[each] for each in ("first", "second", "last", "sign"))
    read = {"day first": _day(last, second, first)}
    if sign != ".":  # a point stands behind the number of a day, not of a month
        read["month first"] = _day(last, first, second)
    if sign == "-" and len(last) == 2 and len(first) == 2:
        read["year first"] = _day(first, second, last)
    return {order: day for order, day in read.items() if day}


def _day(year: str, month: str, day: str) -> date | None:
    try:
        return date(int(year) + (2000 if len(year) == 2 else 0), int(month), int(day))
    except ValueError:
        return None


def _problem(line: int | None, found: str, expected: str, remedy: str) -> Problem:
    return Problem(line=line, column=None, found=found, expected=expected, remedy=remedy)
