"""Official series: the value of a month, and an amount moved from one month to another."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from pricing.answer import Answer, month_text
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import rows
from pricing.days import month_words
from pricing.errors import SeriesRefused, UnknownName
from pricing.names import nearest

USABLE_MONTHS = 3  # a value counts for its month and the three after it (design §5)


@dataclass(frozen=True, kw_only=True)
class MonthValue:
    """The value of a series in a month, and whether it is that month's own."""

    value: float
    month: date  # asked for
    value_month: date  # the month the value is of
    filled: bool  # inside the series, without a value of its own
    held: bool  # after the last month of the series
    last_month: date


@dataclass(frozen=True, kw_only=True)
class Rebased(Answer):
    """An amount moved from one month to another by an official series (contract §3)."""

    amount: float
    from_month: str  # "from" in JSON
    to_month: str  # "to" in JSON
    series: str
    title: str | None
    index_from: float
    index_to: float
    factor: float  # index_to ÷ index_from
    result: float  # amount × factor, not rounded
    held_at: str | None  # last month of the series, where a later one was asked for
    filled: tuple[str, ...]
    frequency: str = "monthly"  # quarterly: each month carries the value of its quarter
    base_label: str | None = None  # index reference period; it cancels in the factor
    approximate: bool = False  # the series was linked across a change of what it covers
    note: str | None = None  # how the series was made, for one made of others

    def as_json(self) -> dict[str, object]:
        answer = super().as_json()
        names = {"from_month": "from", "to_month": "to"}
        return {names.get(key, key): value for key, value in answer.items()}


def find_series(con: Connection, series: str) -> str | None:
    """Return the title of a series in the book. Raises UnknownName with the nearest ids."""
    titles: dict[str, str | None] = dict(
        con.execute("SELECT series, title FROM series_now").fetchall()
    )
    if series not in titles:
        remedy = "List them with `portiondrift index list`."
        raise UnknownName("series", series, nearest(series, titles), remedy)
    return titles[series]


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


def rebase(book: Book, amount: float, *, start: date, end: date, series: str) -> Rebased:
    """Move an amount from one month to another: amount × index_to ÷ index_from.

    `start` and `end` are first days of months. It stays on the series named.
    Raises UnknownName, SeriesRefused (a month without a usable value), BookUnreadable.
    Source: BLS, "How to use the Consumer Price Index for escalation"; full precision inside,
    money rounded once at the end.
    """
    with reading(book) as con:
        return rebase_in(con, amount, start=start, end=end, series=series)


def rebase_in(con: Connection, amount: float, *, start: date, end: date, series: str) -> Rebased:
    """`rebase` in an open book."""
    title = find_series(con, series)
    base_label, frequency, note, approximate = series_marks(con, series, start, end)
    before, after = (month_value(con, series, month) for month in (start, end))
    factor = after.value / before.value
    held = [value for value in (before, after) if value.held]
    return Rebased(
        amount=amount,
        from_month=month_text(start),
        to_month=month_text(end),
        series=series,
        title=title,
        index_from=before.value,
        index_to=after.value,
        factor=factor,
        result=amount * factor,
        held_at=month_text(held[0].last_month) if held else None,
        filled=tuple(month_text(value.month) for value in (before, after) if value.filled),
        frequency=frequency,
        base_label=base_label,
        approximate=approximate,
        note=note,
    )


def series_marks(
    con: Connection, series: str, *months: date
) -> tuple[str | None, str, str | None, bool]:
    """Return what stands beside a series: reference period, frequency, note, approximate link.

    A joined series is quarterly when one of `months` falls in a part that is.
    """
    found = con.execute(
        "SELECT base_label, coalesce(frequency, 'monthly'), note, coalesce(approximate, false) "
        "FROM (SELECT $series::VARCHAR AS series) LEFT JOIN series_detail_now USING (series) "
        "LEFT JOIN series_link_now USING (series)",
        {"series": series},
    ).fetchone()
    base, frequency, note, approximate = found or (None, "monthly", None, False)
    parts = con.execute(
        "SELECT count(*) FROM series_part_now p JOIN series_detail_now d ON d.series = p.source "
        "JOIN (SELECT unnest($months::DATE[]) AS month) m "
        "  ON (p.from_month IS NULL OR m.month >= p.from_month) "
        " AND (p.before_month IS NULL OR m.month < p.before_month) "
        "WHERE p.series = $series AND d.frequency = 'quarterly'",
        {"series": series, "months": list(months)},
    ).fetchone()
    return base, "quarterly" if parts and parts[0] else frequency, note, approximate
