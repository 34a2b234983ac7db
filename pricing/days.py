"""Days and months: as words, as YYYY-MM, a run of months, and the day each is costed on."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import date, datetime

from pricing.errors import DateRefused

DAY_OF_MONTH = 15  # the day a month is asked about

Day = date | str  # of a public function: a date, or a text YYYY-MM-DD; for a month YYYY-MM, too


def day_words(day: date) -> str:
    """Return a date in full, e.g. "3 May 2019"."""
    return f"{day.day} {day:%B %Y}"


def month_words(month: date | str) -> str:
    """Return a month in full, e.g. "May 2019"; as a text it is written YYYY-MM."""
    day = date.fromisoformat(f"{month}-01") if isinstance(month, str) else month
    return f"{day:%B %Y}"


def month_text(month: date) -> str:
    """Return YYYY-MM."""
    return month.isoformat()[:7]  # %Y leaves out the zeros of an early year


def read_day(day: Day) -> date:
    """Return a date given as one, or as a text YYYY-MM-DD. Raises DateRefused.

    >>> read_day("2026-11-01") == read_day(date(2026, 11, 1))
    True
    """
    if isinstance(day, date):
        return day.date() if isinstance(day, datetime) else day
    try:
        if isinstance(day, str) and re.fullmatch(r"\d{4}-\d{2}-\d{2}", day, re.ASCII):
            return date.fromisoformat(day)
    except ValueError:
        pass
    raise DateRefused(
        f"Found the date {_as_found(day)}; expected YYYY-MM-DD such as 2026-11-24. "
        "Correct the date."
    )


def read_month_of(month: Day) -> date:
    """Return the first day of a month given as YYYY-MM, or by a date in it. Raises DateRefused."""
    if isinstance(month, str) and not re.fullmatch(r"\d{4}-\d{2}-\d{2}", month, re.ASCII):
        return read_month(month)
    if not isinstance(month, date | str):
        raise _no_month(month)
    return read_day(month).replace(day=1)


def read_month(text: str) -> date:
    """Return the first day of a month written YYYY-MM. Raises DateRefused."""
    try:
        if re.fullmatch(r"\d{4}-\d{2}", text, re.ASCII):
            return date.fromisoformat(f"{text}-01")
    except ValueError:
        pass
    raise _no_month(text)


def _no_month(found: object) -> DateRefused:
    return DateRefused(
        f"Found the month {_as_found(found)}; expected YYYY-MM such as 2026-08. Correct the month."
    )


def _as_found(found: object) -> str:
    return f"'{found[:40]}'" if isinstance(found, str) else repr(found)[:40]


def month_range(start: date, end: date) -> list[date]:
    """Return the first days of the months from `start` to `end`, both included.

    Raises DateRefused when `end` is before `start`.
    """
    if end < start:
        raise DateRefused(
            f"Found months from {month_words(start)} to {month_words(end)}; expected the earlier "
            "month first. Change them round."
        )
    count = (end.year - start.year) * 12 + end.month - start.month + 1
    months = (start.year * 12 + start.month - 1 + step for step in range(count))
    return [date(number // 12, number % 12 + 1, 1) for number in months]


def costing_days(months: Iterable[date], up_to: date) -> list[date]:
    """Return the 15th of each month that is not after `up_to`."""
    days = (month.replace(day=DAY_OF_MONTH) for month in months)
    return [day for day in days if day <= up_to]


def left_out_words(months: Sequence[date], days: Sequence[date]) -> tuple[str, ...]:
    """Return the remark on the last of some months, those without a day to be costed on, if any."""
    if len(days) == len(months):
        return ()
    first = month_words(months[len(days)])
    return (f"{first} and later are left out: the {DAY_OF_MONTH}th has not been yet.",)
