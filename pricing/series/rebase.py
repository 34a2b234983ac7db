"""Official series: the value of a month, and an amount moved from one month to another."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from pricing.answer import Answer
from pricing.book.connect import Book, Connection, reading
from pricing.contents.series import find_series
from pricing.days import Day, month_text, read_month_of
from pricing.series.month_value import month_value


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


def rebase(book: Book, amount: float, *, start: Day, end: Day, series: str) -> Rebased:
    """Move an amount from one month to another: amount × index_to ÷ index_from.

    `start` and `end` are months, as YYYY-MM or a date in them. It stays on the series named.
    Raises DateRefused, UnknownName, SeriesRefused (a month without a usable value), BookUnreadable.
    Source: BLS, "How to use the Consumer Price Index for escalation"; full precision inside,
    money rounded once at the end.
    """
    first, last = read_month_of(start), read_month_of(end)
    with reading(book) as con:
        return rebase_in(con, amount, start=first, end=last, series=series)


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
