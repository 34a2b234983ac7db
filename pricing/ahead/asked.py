"""The later day an outlook is asked for, and the target: read, and refused in words."""

from __future__ import annotations

import calendar
import math
from datetime import date

from pricing.ahead.history import month_number, month_of
from pricing.clock import today
from pricing.days import Day, day_words, read_day
from pricing.errors import DateRefused, InputRefused

MOST_MONTHS = 36
_DAYS_A_MONTH = 30.4375


def asked_months(months: int | None, on: Day | None) -> tuple[int, date]:
    """Return how many months ahead, and the day; one of the two is given.

    A day stands for the nearest whole number of months, one at least.
    Raises InputRefused (neither, both, or months that are none), DateRefused.

    """
    if (months is None) == (on is None):
        found = "neither months nor a date" if on is None else "both months and a date"
        raise InputRefused(f"Found {found}; expected one of them. Name the months, or the date.")
    if on is None:
        if isinstance(months, bool) or not isinstance(months, int) or not 0 < months <= MOST_MONTHS:
            raise InputRefused(
                f"Found {months!r} months; expected a whole number from 1 to {MOST_MONTHS}. "
                "Correct it."
            )
        return months, months_after(today(), months)
    day, now = read_day(on), today()
    last = months_after(now, MOST_MONTHS)
    if not now < day <= last:
        raise DateRefused(
            f"Found the date {day_words(day)}; expected one after today ({day_words(now)}), up to "
            f"{day_words(last)}. An outlook is for a day that is still to come: correct the date."
        )
    return max(1, round((day - now).days / _DAYS_A_MONTH)), day


def months_after(day: date, months: int) -> date:
    """Return the same day so many months later, or the last one of a shorter month.

    >>> months_after(date(2026, 11, 30), 3)
    datetime.date(2027, 2, 28)
    """
    month = month_of(month_number(day) + months)
    return month.replace(day=min(day.day, calendar.monthrange(month.year, month.month)[1]))


def asked_target(target: float | None) -> float | None:
    """Return the target. Raises InputRefused where it is no amount above 0."""
    if target is not None and not (math.isfinite(target) and target > 0):
        raise InputRefused(f"Found the target {target:g}; expected an amount above 0. Correct it.")
    return target
