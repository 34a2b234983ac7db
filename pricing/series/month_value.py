"""The value of an official series in a month (design §5)."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from pricing.book.connect import Connection
from pricing.book.price_rule import USABLE_MONTHS
from pricing.book.read import rows
from pricing.days import month_words
from pricing.errors import SeriesRefused


@dataclass(frozen=True, kw_only=True)
class MonthValue:
    """The value of a series in a month, and whether it is that month's own."""

    value: float
    month: date  # asked for
    value_month: date  # the month the value is of
    filled: bool  # inside the series, without a value of its own
    held: bool  # after the last month of the series
    last_month: date


def month_value(con: Connection, series: str, month: date) -> MonthValue:
    """Return the usable value of a month: its own, or one at most three months older.

    Raises SeriesRefused, saying where the series begins or ends, when there is none.
    """
    row = rows(con, "series/series_months", {"series": series, "months": [month]})[0]
    if row["first_month"] is None:
        raise SeriesRefused(
            f"Found no values of {series} in the book; expected at least one. "
            "Load them with `portiondrift index load FILE`."
        )
    first, last, own = row["first_month"], row["last_month"], row["value_month"]
    if own is None:
        raise SeriesRefused(
            f"Found no value of {series} for {month_words(month)}; the series begins in "
            f"{month_words(first)}. Choose a month from then on, or a wider series."
        )
    age = (month.year - own.year) * 12 + month.month - own.month
    if age > USABLE_MONTHS:
        end = (
            f"the series ends in {month_words(last)}"
            if own == last
            else f"its last value before that is of {month_words(own)}"
        )
        raise SeriesRefused(
            f"Found no value of {series} for {month_words(month)} or the {USABLE_MONTHS} months "
            f"before it; {end}. Choose another month, or load a newer release with "
            "`portiondrift index load FILE`."
        )
    return MonthValue(
        value=row["value"],
        month=month,
        value_month=own,
        filled=own < month <= last,
        held=month > last,
        last_month=last,
    )
