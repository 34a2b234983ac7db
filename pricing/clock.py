"""The one place that reads the clock; every other function is told the date it is asked about."""

from __future__ import annotations

import os
from datetime import UTC, date, datetime

from pricing.days import Day, day_words, read_day
from pricing.errors import DateRefused


def today() -> date:
    """Return today's date, or the one in PORTIONDRIFT_TODAY (YYYY-MM-DD), which tests set.

    Raises DateRefused when PORTIONDRIFT_TODAY is not a date.
    """
    override = os.environ.get("PORTIONDRIFT_TODAY")
    if not override:
        return date.today()
    try:
        return date.fromisoformat(override)
    except ValueError:
        raise DateRefused(
            f"Found PORTIONDRIFT_TODAY={override!r}; expected a date such as 2026-11-24. "
            "Correct the variable or unset it."
        ) from None


def now() -> datetime:
    """Return this instant in UTC, without a zone mark, as the book stores it."""
    return datetime.now(UTC).replace(tzinfo=None)


def asked_day(on: Day) -> date:
    """Return the date asked about, given as one or as YYYY-MM-DD.

    Raises DateRefused when it is no date, or after today.
    """
    day = read_day(on)
    refuse_future(day)
    return day


def refuse_future(on: date) -> None:
    """Raise DateRefused when `on` is after today: what will be is a matter of outlook."""
    if on > today():
        raise DateRefused(
            f"Found the date {day_words(on)}, which is after today ({day_words(today())}); "
            "expected a date up to today. Ask for a date that has been."
        )
