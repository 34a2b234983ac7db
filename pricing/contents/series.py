"""What the book holds of official series: the list of them, and one of them in full."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from pricing.answer import Answer, plain
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import rows
from pricing.days import month_text
from pricing.names import find


@dataclass(frozen=True, kw_only=True)
class SeriesFacts(Answer):
    """An official series of the book."""

    series: str
    title: str | None
    parent: str | None  # the next wider series
    classification: str | None
    seasonally_adjusted: bool | None
    base_label: str | None  # index reference period, such as 2015=100
    frequency: str  # monthly, or quarterly: each month carries the value of its quarter
    note: str | None
    months: int  # with a value
    first_month: date | None
    last_month: date | None
    last_released_on: date | None
    ingredients: int  # that name this series
    leaning: int  # that reach it from a narrower series
    revised: int  # months of which two releases differ

    def as_json(self) -> dict[str, object]:
        answer = super().as_json()
        for key in ("first_month", "last_month"):
            month = self[key]
            answer[key] = None if month is None else month_text(month)
        return answer


def list_series(book: Book) -> list[SeriesFacts]:
    """Return the series of the book, by id."""
    with reading(book) as con:
        return [SeriesFacts(**row) for row in rows(con, "contents/series_list")]


@dataclass(frozen=True, kw_only=True)
class Release(Answer):
    """One value of one month, as an office released it."""

    month: date
    value: float
    released_on: date | None
    counts: bool  # is it the one in force

    def as_json(self) -> dict[str, object]:
        return {**super().as_json(), "month": month_text(self.month)}


@dataclass(frozen=True, kw_only=True)
class SeriesShown(Answer):
    """One series with its ladder, its values, and what was revised."""

    facts: SeriesFacts
    ladder: tuple[tuple[str, str | None], ...]  # (id, title), this series first
    months: tuple[tuple[date, float], ...]  # first day of month, value
    revisions: tuple[Release, ...]  # every release of the months that were revised
    link: Mapping[str, Any] | None  # how it was made, for a series made of others
    fetched: tuple[Mapping[str, Any], ...]  # url, fetched_at, sha256 of what it was read from

    def as_json(self) -> dict[str, object]:
        ladder = [{"series": series, "title": title} for series, title in self.ladder]
        values = [{"month": month_text(month), "value": value} for month, value in self.months]
        return {
            **self.facts.as_json(),
            "ladder": ladder,
            "values": values,
            "revisions": [each.as_json() for each in self.revisions],
            "link": plain(self.link),
            "fetched": plain(self.fetched),
        }


def show_series(book: Book, series: str) -> SeriesShown:
    """Return a series with all its values and the wider series above it. Raises UnknownName."""
    with reading(book) as con:
        find_series(con, series)
        known = {row["series"]: SeriesFacts(**row) for row in rows(con, "contents/series_list")}
        values = con.execute(
            "SELECT month, value FROM series_value_now WHERE series = $series ORDER BY month",
            {"series": series},
        ).fetchall()
        releases = [
            Release(**{key: value for key, value in row.items() if key != "loaded_at"})
            for row in rows(con, "contents/series_revisions", {"series": series})
        ]
        link = _link(con, series)
        fetched = con.execute(
            "SELECT DISTINCT url, fetched_at, sha256 FROM fetched WHERE batch IN "
            "(SELECT batch FROM series_value WHERE series = $series) ORDER BY fetched_at, url",
            {"series": series},
        ).fetchall()
    ladder: list[tuple[str, str | None]] = []
    rung: str | None = series
    while rung is not None and rung not in [each for each, _ in ladder]:
        facts = known.get(rung)
        ladder.append((rung, facts.title if facts else None))
        rung = facts.parent if facts else None
    return SeriesShown(
        facts=known[series],
        ladder=tuple(ladder),
        months=tuple(values),
        revisions=tuple(releases),
        link=link,
        fetched=tuple(
            {"url": url, "fetched_at": f"{at:%Y-%m-%dT%H:%M:%SZ}", "sha256": sha}
            for url, at, sha in fetched
        ),
    )


def _link(con: Connection, series: str) -> dict[str, Any] | None:
    found = con.execute(
        "SELECT older, newer, first_month, last_month, factor, spread_pct, approximate, reason "
        "FROM series_link_now WHERE series = $series",
        {"series": series},
    ).fetchone()
    if found is None:
        return None
    names = ("older", "newer", "first_month", "last_month", "factor", "spread_pct", "approximate",
             "reason")  # fmt: skip
    link = dict(zip(names, found, strict=True))
    return {**link, **{key: month_text(link[key]) for key in ("first_month", "last_month")}}


def find_series(con: Connection, series: str) -> str | None:
    """Return the title of a series in the book. Raises UnknownName with the nearest ids."""
    titles: dict[str, str | None] = dict(
        con.execute("SELECT series, title FROM series_now").fetchall()
    )
    remedy = "List them with `portiondrift index list`."
    return find(series, titles, kind="series", remedy=remedy, compared=str)
