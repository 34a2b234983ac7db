"""Takes the series of one office file, or of one fetch, into the book: all of them or none."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from ingest.kinds.checked import Checked, Options
from ingest.kinds.index import described_tables
from ingest.kinds.series_facts import SeriesFacts, read_series
from ingest.offices.reading.collect import Found, Gathered
from ingest.offices.taking.parents import Ladders
from ingest.offices.taking.remarks import remarks_on
from ingest.report import FileReport
from ingest.text.rows import Row
from pricing.book import known
from pricing.book.append import Columns, Source, append_batch
from pricing.book.connect import Book, Connection, reading, writing
from pricing.book.fetched import Fetched, keep
from pricing.errors import Problem


@dataclass(frozen=True, kw_only=True)
class Delivery:
    """Series that an office published, and how they came."""

    shown: str  # as the user named it
    name: str  # of the file, or of the office asked
    sha256: str
    found: Found
    fetched: tuple[Fetched, ...] = ()


def combined(shown: str, name: str, found: Sequence[Found], fetched: Sequence[Fetched]) -> Delivery:
    """Return several answers to one question as one delivery."""
    return Delivery(
        shown=shown,
        name=name,
        sha256=fetched[0].sha256
        if len(fetched) == 1
        else hashlib.sha256("".join(each.sha256 for each in fetched).encode()).hexdigest(),
        found=Found(
            series=_joined(each for one in found for each in one.series),
            problems=tuple(problem for one in found for problem in one.problems),
            remarks=tuple(dict.fromkeys(remark for one in found for remark in one.remarks)),
        ),
        fetched=tuple(fetched),
    )


def _joined(series: Iterable[Gathered]) -> tuple[Gathered, ...]:
    """Return the series with those that came in several windows of years put together."""
    whole: dict[str, Gathered] = {}
    for each in series:
        first = whole.setdefault(each.series, each)
        if first is not each:
            for name in ("monthly", "quarterly", "lines", "texts"):
                setattr(first, name, {**getattr(first, name), **getattr(each, name)})
            first.missing += each.missing
    return tuple(whole.values())


def take(book: Book, delivery: Delivery, options: Options, *, dry_run: bool = False) -> FileReport:
    """Store what is new (not in a dry run) and report it; nothing when anything is wrong."""
    found = delivery.found
    problems = [*found.problems]
    if not found.series and not problems:
        problems.append(_nothing(found))
    if problems:
        return FileReport.refused(delivery.shown, problems, found.remarks)
    door: Callable[[Book], AbstractContextManager[Connection]] = reading if dry_run else writing
    with door(book) as con:
        in_book = known.series(con)
        new = _NewValues(con, found.series, options.today)
        checked = Checked(problems=[*_mixed(found.series, in_book, new)])
        described: list[SeriesFacts] = []
        if not checked.problems:
            rows = _described(found.series, in_book)
            described = read_series(con, rows, replace(options, replace=True), checked)
        if checked.problems:
            return FileReport.refused(delivery.shown, checked.problems, found.remarks)
        load = None if dry_run else _store(con, delivery, new, described)
        remarks = remarks_on(con, found.series, in_book, new.revised, options.today)
        return FileReport(
            file=delivery.shown,
            load=load,
            added=new.added,
            already=new.already,
            remarks=(*found.remarks, *remarks),
            series=tuple((each.series, each.title) for each in found.series),
        )


def _store(
    con: Connection, delivery: Delivery, new: _NewValues, described: Sequence[SeriesFacts]
) -> int | None:
    """Append what is new; return the number of the load, or None when nothing is."""
    tables: dict[str, Columns] = {"series_value": new.columns, **described_tables(described)}
    tables = {name: columns for name, columns in tables.items() if columns["series"]}
    if not tables:
        return None
    source = Source(
        kind="index",
        file_name=delivery.name,
        file_sha256=delivery.sha256,
        added=new.added,
        already=new.already,
    )
    load = append_batch(con, source, tables)
    keep(con, load, delivery.fetched)
    return load


class _NewValues:
    """The values that the book does not have; a changed one is a new release."""

    def __init__(self, con: Connection, series: Sequence[Gathered], today: date) -> None:
        ids = [each.series for each in series]
        releases = known.known_values(con, ids)
        now = known.values_now(con, ids)
        self.months: dict[str, set[date]] = {}  # series → months the book has
        for name, month in now:
            self.months.setdefault(name, set()).add(month)
        self.added = self.already = 0
        self.revised: dict[str, list[tuple[date, float, float]]] = {}
        lists: dict[str, list[Any]] = {
            name: [] for name in ("line", "raw", "series", "month", "value", "released_on")
        }
        for each in series:
            day = each.released_on or today
            for month, value, line, text in each.values():
                there, released_on = now.get((each.series, month), (None, None))
                if there == value or releases.get((each.series, month, day)) == value:
                    self.already += 1
                    continue
                if there is not None and (released_on is None or day >= released_on):
                    self.revised.setdefault(each.series, []).append((month, there, value))
                self.added += 1
                cells = (line, text, each.series, month, value, day)
                for column, cell in zip(lists.values(), cells, strict=True):
                    column.append(cell)
        self.columns: dict[str, list[Any]] = lists


def _described(series: Sequence[Gathered], in_book: Mapping[str, Mapping[str, Any]]) -> list[Row]:
    """Return a row for each series that says what it is, and for each that gets a new parent."""
    ladders = Ladders(in_book, series)
    rows = [
        Row(
            line=each.line,
            raw="",
            bad=frozenset(),
            value={
                "series": each.series,
                "title": each.title,
                "parent": ladders.parent(each.series),
                "classification": each.classification,
                "seasonally_adjusted": each.seasonally_adjusted,
                "base_label": each.base_label,
                "frequency": _frequency(each, in_book.get(each.series)),
                "note": each.note,
            },
        )
        for each in series
    ]
    here = {each.series for each in series}
    offices = {name.partition(":")[0] for name in here}
    for name, facts in in_book.items():  # a narrower rung may have come between
        parent = ladders.parent(name)
        if name in here or name.partition(":")[0] not in offices or parent is None:
            continue
        if parent != facts["parent"] and (facts["parent"] in ladders.places or not facts["parent"]):
            value = {**dict.fromkeys(rows[0].value), "series": name, "parent": parent}
            rows.append(Row(line=1, raw="", bad=frozenset(), value=value))
    return rows


def _frequency(each: Gathered, before: Mapping[str, Any] | None) -> str | None:
    """Return the frequency to state: none where the book says nothing, which means monthly."""
    unsaid = before is not None and before["frequency"] is None and each.frequency == "monthly"
    return None if unsaid else each.frequency


def _mixed(
    series: Sequence[Gathered], in_book: Mapping[str, Mapping[str, Any]], new: _NewValues
) -> Iterable[Problem]:
    """Yield a problem for each series whose new values do not belong with those of the book."""
    for each in series:
        before, months = in_book.get(each.series), new.months.get(each.series, set())
        if before is None or not months:
            continue
        was = before["frequency"] or "monthly"
        if was != each.frequency:
            yield Problem(
                line=each.line,
                column=None,
                found=f"{each.frequency} values of {each.series}",
                expected=f"{was} ones, as the book has them",
                remedy="Load them as a series of their own, and join the two with `index link`.",
            )
        base = before["base_label"]
        if base and each.base_label and base != each.base_label:
            missing = months - {month for month, *_ in each.values()}
            if missing:
                yield Problem(
                    line=each.line,
                    column=None,
                    found=f"{each.series} on the reference period {each.base_label}, without "
                    f"{min(missing):%Y-%m}",
                    expected=f"{base}, as the book has it, or all of its months on the new one",
                    remedy="Levels on two reference periods are not mixed: get the whole series.",
                )


def _nothing(found: Found) -> Problem:
    why = " ".join(found.remarks).strip()
    return Problem(
        line=None,
        column=None,
        found="no index series to take" + (f" ({why.rstrip('.')})" if why else ""),
        expected="at least one price index by month or quarter",
        remedy="Rates, changes and weights are of no use here: download the index itself.",
    )
