"""What official series say between two months, of many series in one look."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date

from pricing.book.connect import Connection
from pricing.book.price_rule import USABLE_MONTHS
from pricing.book.read import rows


@dataclass(frozen=True, kw_only=True)
class MonthOf:
    """A series in a month."""

    value: float
    held: bool  # the month is after the last of the series
    own: bool  # the series has a value of the month itself: it is neither held nor filled


Months = Mapping[tuple[str, date], MonthOf]  # (series, first day of month); unusable months absent


def usable_months(
    con: Connection, series: Collection[str | None], months: Collection[date]
) -> dict[tuple[str, date], MonthOf]:
    """Return every usable month (design §5) of every series. `months`: any day of each month."""
    wanted = sorted({each for each in series if each is not None})
    if not wanted or not months:
        return {}
    starts = sorted({day.replace(day=1) for day in months})
    words = {"series": wanted, "months": starts, "usable_months": USABLE_MONTHS}
    return {
        (row["series"], row["month"]): MonthOf(value=row["value"], held=row["held"], own=row["own"])
        for row in rows(con, "series/series_on", words)
    }


def relative(months: Months, series: str | None, then: date, now: date) -> float | None:
    """Return the value in the month of `now` ÷ that in the month of `then`; None if unusable."""
    if series is None:
        return None
    before = months.get((series, then.replace(day=1)))
    after = months.get((series, now.replace(day=1)))
    return None if before is None or after is None else after.value / before.value


def own_relative(months: Months, series: str | None, then: date, now: date) -> float | None:
    """Return `relative` where the series has a value of the month of `now` itself, else None.

    A month that was filled, or held after the last one, is no datum of the office.
    """
    after = None if series is None else months.get((series, now.replace(day=1)))
    return relative(months, series, then, now) if after is not None and after.own else None
