"""Makes a series of the book out of others: two joined over an overlap, or one re-referenced."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from pricing.answer import Answer
from pricing.book.append import Columns, Source, append_batch
from pricing.book.connect import Book, Connection, writing
from pricing.book.known import series as known_series
from pricing.book.read import rows
from pricing.contents.series import find_series
from pricing.days import month_text, month_words, read_month
from pricing.errors import InputRefused, SeriesRefused
from pricing.series.link_arithmetic import (
    LOUD_SPREAD,
    LinkFactor,
    link_factor,
    reference_factor,
)

PREFIX = "linked:"
MADE_HERE = "made by index link"  # the "file" of such a load


@dataclass(frozen=True, kw_only=True)
class Linked(Answer):
    """A series made of others."""

    series: str
    title: str
    older: str
    newer: str
    first_month: str  # of the overlap, YYYY-MM
    last_month: str
    factor: float
    spread_pct: float
    approximate: bool
    load: int | None  # None: the book had it already, exactly so
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Judgement:
    """Whether two series that are joined cover the same goods, and why they may be joined."""

    approximate: bool  # they do not
    reason: str | None


SAME_GOODS = Judgement(approximate=False, reason=None)


@dataclass(frozen=True, kw_only=True)
class _Making:
    """A series about to be stored, and how it comes about."""

    made: Linked
    parts: Sequence[dict[str, Any]]
    note: str  # how it was made, in words
    reason: str | None
    base_label: str | None = None  # None: that of the newer series


def link_series(
    book: Book,
    older: str,
    newer: str,
    *,
    months: Sequence[date],
    series: str | None = None,
    judged: Judgement = SAME_GOODS,
) -> Linked:
    """Join two series of the book over `months` that both have, and store how.

    Before the first month of the overlap the new series is the older one times the factor, from
    then on the newer one. It has no values of its own: a later release of either shows at once.
    The factor stays as it is. `series` names it; `judged` says whether the two cover the same
    goods, and is kept with it. Raises UnknownName, SeriesRefused, InputRefused, BookUnreadable.
    """
    if older == newer:
        raise InputRefused(
            f"Found {older} twice; expected two different series. Name the older, then the newer."
        )
    with writing(book) as con:
        titles = [find_series(con, each) or each for each in (older, newer)]
        found = link_factor(_values(con, older), _values(con, newer), months)
        start = found.months[0]
        parts = [
            *_cut(con, older, found.factor, before=start),
            *_cut(con, newer, 1.0, since=start),
        ]
        made = Linked(
            series=_name(con, series, newer),
            title=f"{titles[1]}, linked to earlier years",
            older=older,
            newer=newer,
            first_month=month_text(start),
            last_month=month_text(found.months[-1]),
            factor=found.factor,
            spread_pct=found.spread_pct,
            approximate=judged.approximate,
            load=None,
            remarks=_loud(found.spread_pct) if found.loud else (),
        )
        note = _note(titles, made, found)
        return _store(con, _Making(made=made, parts=parts, note=note, reason=judged.reason))


def _note(titles: Sequence[str], made: Linked, found: LinkFactor) -> str:
    kind = "approximate link" if made.approximate else "link"
    return (
        f"{kind}: {titles[0]} ({made.older}) ×{found.factor:.6g} before "
        f"{month_words(found.months[0])}, then {titles[1]} ({made.newer}); overlap "
        f"{_span(found.months)}, spread {found.spread_pct:.2f} %"
    )


def re_reference_series(
    book: Book, source: str, *, months: Sequence[date], series: str | None = None
) -> Linked:
    """Make a series of `source` with its mean over `months` at 100. Raises as `link_series`."""
    with writing(book) as con:
        title = find_series(con, source) or source
        factor = reference_factor(_values(con, source), months)
        label = f"{_span(sorted(months))}=100"
        made = Linked(
            series=_name(con, series, source),
            title=f"{title}, {label}",
            older=source,
            newer=source,
            first_month=month_text(min(months)),
            last_month=month_text(max(months)),
            factor=factor,
            spread_pct=0.0,
            approximate=False,
            load=None,
        )
        note = f"re-referenced: {title} ({source}) ×{factor:.6g}"
        parts = _cut(con, source, factor)
        making = _Making(made=made, parts=parts, note=note, reason=None, base_label=label)
        return _store(con, making)


def _values(con: Connection, series: str) -> dict[date, float]:
    return dict(
        con.execute(
            "SELECT month, value FROM series_value_now WHERE series = $series", {"series": series}
        ).fetchall()
    )


def _cut(
    con: Connection, series: str, factor: float, *, since: date | None = None,
    before: date | None = None,
) -> list[dict[str, Any]]:  # fmt: skip
    """Return the parts of a series between two months, each times a factor."""
    parts = []
    for part in rows(con, "series/series_parts", {"series": series}):
        begin = max(filter(None, (part["from_month"], since)), default=None)
        end = min(filter(None, (part["before_month"], before)), default=None)
        if begin is None or end is None or begin < end:
            parts.append(
                {
                    "source": part["source"],
                    "factor": part["factor"] * factor,
                    "from_month": begin,
                    "before_month": end,
                }
            )
    return parts


def _name(con: Connection, asked: str | None, newer: str) -> str:
    name = asked or PREFIX + newer.removeprefix(PREFIX)
    own_values = con.execute(
        "SELECT count(*) FROM series_value v ANTI JOIN retraction r ON r.row_id = v.row_id "
        "WHERE series = $series",
        {"series": name},
    ).fetchone()
    if own_values and own_values[0]:
        raise InputRefused(
            f"Found values of its own under the name {name}; expected a new name. "
            "Name the joined series with --as."
        )
    return name


def _store(con: Connection, making: _Making) -> Linked:
    made, known = making.made, known_series(con)
    there = known.get(made.series)
    if there is not None and there["note"] == making.note and _same(con, made):
        return made
    if any(part["source"] == made.series for part in making.parts):
        raise SeriesRefused(
            f"Found {made.series} among its own parts; expected another name. Name it with --as."
        )
    text = f"{making.note} {making.parts}"
    source = Source(
        kind="index",
        file_name=MADE_HERE,
        file_sha256=hashlib.sha256(text.encode()).hexdigest(),
        added=0,
        already=0,
    )
    return replace(made, load=append_batch(con, source, _tables(making, known[made.newer])))


def _tables(making: _Making, newer: Mapping[str, Any]) -> dict[str, Columns]:
    """Return the rows to store, by table; what is not said anew is as of the newer series."""
    made, parts = making.made, making.parts
    link = ("series", "older", "newer", "factor", "spread_pct", "approximate")
    part_columns = ("source", "factor", "from_month", "before_month")
    return {
        "series": {
            "series": [made.series],
            "title": [made.title],
            **{name: [newer[name]] for name in ("parent", "classification", "seasonally_adjusted")},
        },
        "series_detail": {
            "series": [made.series],
            "base_label": [making.base_label or newer["base_label"]],
            "frequency": [newer["frequency"]],
            "note": [making.note],
        },
        "series_link": {
            **{name: [made[name]] for name in link},
            **{name: [read_month(made[name])] for name in ("first_month", "last_month")},
            "reason": [making.reason],
        },
        "series_part": {
            "series": [made.series] * len(parts),
            **{name: [part[name] for part in parts] for name in part_columns},
        },
    }


def _same(con: Connection, made: Linked) -> bool:
    """Tell whether the book holds this very link."""
    found = con.execute(
        "SELECT factor, approximate FROM series_link_now WHERE series = $series",
        {"series": made.series},
    ).fetchone()
    return found == (made.factor, made.approximate)


def _span(months: Sequence[date]) -> str:
    """Return months in words: December 2025, or 2025, or a first and a last."""
    first, last = months[0], months[-1]
    if first == last:
        return month_words(first)
    if first.year == last.year and len(months) == 12:
        return str(first.year)
    return f"{month_words(first)} to {month_words(last)}"


def _loud(spread: float) -> tuple[str, ...]:
    return (
        f"The two series move apart by {spread:.1f} % over the overlap, more than "
        f"{LOUD_SPREAD} %: what they cover probably changed. Take the figures as a guide only.",
    )
