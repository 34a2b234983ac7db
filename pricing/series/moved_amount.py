"""An old amount moved month by month by the official series of the book's settings."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from pricing.answer import Answer
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import read_settings
from pricing.contents.series import find_series
from pricing.errors import SeriesRefused, UnknownName
from pricing.series.month_value import month_value


@dataclass(frozen=True, kw_only=True)
class RebasedPath(Answer):
    """One amount of one month in the money of later months."""

    which: str  # food or all items
    series: str
    title: str | None
    points: tuple[tuple[date, float], ...]  # first day of each published month, amount
    reason: str | None  # why there are none


def rebased_paths(book: Book, amount: float, *, start: date, end: date) -> tuple[RebasedPath, ...]:
    """Move `amount` of the month `start` to every published month up to `end`, by each series.

    amount × index of the month ÷ index of `start`; only months with a value of their own, so the
    path ends where the series ends. `start` and `end` are first days of months. The series are the
    book's food-at-home and all-items series, where it has them. Raises BookUnreadable.
    """
    with reading(book) as con:
        settings = read_settings(con)
        named = (("food", settings.food_series), ("all items", settings.all_items_series))
        return tuple(
            _path(con, which, series, amount, start, end)
            for which, series in named
            if series is not None
        )


def _path(
    con: Connection, which: str, series: str, amount: float, start: date, end: date
) -> RebasedPath:
    title, reason = None, None
    points: tuple[tuple[date, float], ...] = ()
    try:
        title = find_series(con, series)
        base = month_value(con, series, start).value
    except (SeriesRefused, UnknownName) as refused:
        reason = str(refused)
    else:
        values = con.execute(
            "SELECT month, value FROM series_value_now "
            "WHERE series = $series AND month BETWEEN $start AND $end ORDER BY month",
            {"series": series, "start": start, "end": end},
        ).fetchall()
        points = tuple((month, amount * value / base) for month, value in values)
    return RebasedPath(which=which, series=series, title=title, points=points, reason=reason)
