"""How dates, months and reasons are said in a sentence."""

from __future__ import annotations

from datetime import date


def day_words(day: date) -> str:
    """Return a date in full, e.g. "3 May 2019"."""
    return f"{day.day} {day:%B %Y}"


def month_words(month: date | str) -> str:
    """Return a month in full, e.g. "May 2019"; as a text it is written YYYY-MM."""
    day = date.fromisoformat(f"{month}-01") if isinstance(month, str) else month
    return f"{day:%B %Y}"
