"""Official series: the value of a month, and an amount moved from one month to another."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from pricing.answer import Answer, month_text
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import rows
from pricing.errors import SeriesRefused, UnknownName
from pricing.names import nearest
from pricing.words import month_words

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
    row = rows(con, "series_months", {"series": series, "months": [month]})[0]
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
    )


@dataclass(frozen=True, kw_only=True)
class SeriesFacts(Answer):
    """An official series of the book."""

    series: str
    title: str | None
    parent: str | None  # the next wider series
    classification: str | None
    seasonally_adjusted: bool | None
    months: int  # with a value
    first_month: date | None
    last_month: date | None
    last_released_on: date | None
    ingredients: int  # that name this series
    revised: int  # months of which more than one release is kept

    def as_json(self) -> dict[str, object]:
        answer = super().as_json()
        for key in ("first_month", "last_month"):
            month = self[key]
            answer[key] = None if month is None else month_text(month)
        return answer


def list_series(book: Book) -> list[SeriesFacts]:
    """Return the series of the book, by id."""
    with reading(book) as con:
        return [SeriesFacts(**row) for row in rows(con, "series_list")]


@dataclass(frozen=True, kw_only=True)
class SeriesShown(Answer):
    """One series with its ladder and its latest values."""

    facts: SeriesFacts
    ladder: tuple[tuple[str, str | None], ...]  # (id, title), this series first
    months: tuple[tuple[date, float], ...]  # first day of month, value

    def as_json(self) -> dict[str, object]:
        ladder = [{"series": series, "title": title} for series, title in self.ladder]
        values = [{"month": month_text(month), "value": value} for month, value in self.months]
        return {**self.facts.as_json(), "ladder": ladder, "values": values}


def show_series(book: Book, series: str) -> SeriesShown:
    """Return a series with all its values and the wider series above it. Raises UnknownName."""
    with reading(book) as con:
        find_series(con, series)
        known = {row["series"]: SeriesFacts(**row) for row in rows(con, "series_list")}
        values = con.execute(
            "SELECT month, value FROM series_value_now WHERE series = $series ORDER BY month",
            {"series": series},
        ).fetchall()
    ladder: list[tuple[str, str | None]] = []
    rung: str | None = series
    while rung is not None and rung not in [each for each, _ in ladder]:
        facts = known.get(rung)
        ladder.append((rung, facts.title if facts else None))
        rung = facts.parent if facts else None
    return SeriesShown(facts=known[series], ladder=tuple(ladder), months=tuple(values))
