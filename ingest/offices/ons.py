"""Reads what the UK Office for National Statistics publishes: one series, or all of MM23.

Layout (seen in a file of 25 March 2026): rows Title, CDID, PreUnit, Unit, Release date, Next
release, Important notes; then rows of years, quarters and months, one column a series.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import date

from ingest.offices.facts.ladders import Rung, ladder, rung
from ingest.offices.reading.collect import (
    MANY_SERIES,
    OTHERS,
    RATES,
    UNNAMED,
    Collector,
    Gathered,
)
from ingest.offices.reading.csv_rows import csv_rows
from ingest.offices.reading.periods import Period, day_in, read_period
from ingest.offices.reading.source import Source
from ingest.offices.reading.wording import (
    base_label,
    is_adjusted,
    is_price,
    is_rate,
    plain_title,
    without_base,
)
from ingest.problem_codes import Code
from ingest.text.sentences import counted, quoted
from pricing.errors import Problem

NAME = "ONS"
_TITLE = re.compile(r"CPI(H?) INDEX (\d\d(?:\.\d){0,3})\b\s*:?\s*(.*)", re.IGNORECASE)
_UNNAMED = Problem(
    line=None,
    column=None,
    found="a series without its identifier",
    expected="a CDID such as D7BU",
    remedy="Name it with --series D7BU.",
    code=Code.SERIES_UNNAMED,
    series="D7BU",
)
_FEW = 60  # columns; a file with so few was asked for, so all its indices are taken


def recognises(head: str) -> bool:
    """Tell whether a text is an ONS time series: its Title and CDID rows, or its JSON keys."""
    if head.lstrip().startswith("{"):
        return all(f'"{key}"' in head for key in ("months", "quarters", "years"))
    lines = head.split("\n", 2)
    return len(lines) > 2 and all(
        line.lstrip().startswith((f'"{word}"', f"{word},"))
        for line, word in zip(lines, ("Title", "CDID"), strict=False)
    )


def read(source: Source, collector: Collector) -> None:
    """Read the index series of the file into the collector: the food ladder of MM23, or all of a
    small file, or those that were named.
    """
    if source.is_json:
        _read_json(source, collector)
        return
    with source.lines() as lines:
        _read_rows(csv_rows(lines, collector), collector)


def _read_rows(rows: Iterator[tuple[int, list[str]]], collector: Collector) -> None:
    _, titles = next(rows, (0, []))
    cdids = [cell.strip() for cell in next(rows, (0, []))[1]]
    columns: list[tuple[int, Gathered]] = []
    released: Sequence[str] = ()
    begun = False
    for line, row in rows:
        if not row or (len(row) == 1 and not row[0].strip()):
            continue
        period = read_period(row[0])
        if period is None and not begun:
            if row[0].strip().casefold() == "release date":
                released = row
            continue
        if not begun:
            begun = True
            columns = list(_chosen(titles, cdids, released, collector))
        if period is None:
            _refuse(line, quoted(row[0]), "a year, quarter or month", collector)
        elif len(row) != len(titles):
            found = counted(len(row), "cell")
            _refuse(line, found, f"{len(titles)}, as in the header", collector)
        else:
            _take(columns, row, period, line, collector)
        if collector.hopeless:
            return
    if not begun:
        _refuse(None, "a heading and no values", "rows of months below it", collector)


def _take(
    columns: Sequence[tuple[int, Gathered]],
    row: Sequence[str],
    period: Period,
    line: int,
    collector: Collector,
) -> None:
    """Take the values of one period, column by column."""
    for place, into in columns:
        if period.frequency not in "MQ":
            into.years += 1
        elif text := row[place]:
            collector.take(into, period, text, line, into.series.partition(":")[2])
        else:
            into.missing += 1


def _refuse(line: int | None, found: str, expected: str, collector: Collector) -> None:
    collector.problem(line, None, found, expected, "The file may be cut off: download it again.")


def _chosen(
    titles: Sequence[str], cdids: Sequence[str], released: Sequence[str], collector: Collector
) -> Iterator[tuple[int, Gathered]]:
    """Yield the place of each column to take, and where its values go."""
    few = len(titles) <= _FEW
    on_ladder_only = sum(_is_food(title) for title in titles) > MANY_SERIES
    for place in range(1, min(len(titles), len(cdids))):
        if on_ladder_only and not collector.wanted and rung("uk-ons", cdids[place]) is None:
            collector.left_out[OTHERS] += 1
            continue
        day = _day_first(released[place]) if place < len(released) else None
        into = _begin(cdids[place], titles[place], day, collector, few)
        if into is not None:
            yield place, into


def _is_food(title: str) -> bool:
    """Tell whether a title is that of a CPI class of food, drink or all items."""
    found = _TITLE.match(title)
    return found is not None and not found[1] and re.match(r"0[01]|02\.1", found[2]) is not None


def _begin(
    cdid: str, title: str, released_on: date | None, collector: Collector, few: bool
) -> Gathered | None:
    found = _TITLE.match(title)
    number = found[2] if found else None
    named = bool(collector.wanted) and collector.chosen(cdid, f"uk-ons:{cdid}")
    if not named and (collector.wanted or not (few or _is_food(title))):
        collector.left_out[UNNAMED if collector.wanted else OTHERS] += 1
        return None
    if is_rate(title):
        collector.left_out[RATES] += 1
        return None
    place = rung("uk-ons", cdid)
    if place is not None and number != place.coicop:
        collector.problem(
            1, cdid, f"the title {quoted(title)}",
            f"one that begins CPI INDEX {place.coicop} ({place.title})",
            "The office may have given this identifier to another series: check it there.",
        )  # fmt: skip
        return None
    if is_price(title):
        collector.remarks.append(f"{cdid} is an average price, not an index.")
    made = collector.gather(f"uk-ons:{cdid}", 1)
    made.title = _words(title, place)
    made.classification = "COICOP 1999 (UK CPI)" if found else None
    made.seasonally_adjusted = is_adjusted(title)
    made.base_label = base_label(title)
    made.released_on = released_on
    made.rung = place.key if place else _class_above(number)
    made.below_rung = place is None
    return made


def _words(title: str, place: Rung | None) -> str:
    found = _TITLE.match(title)
    if place is not None:
        return f"{place.title}, UK"
    if found is None:
        return f"{plain_title(without_base(title))}, UK"
    words = plain_title(without_base(found[3]))
    return f"{words}, UK" + (" (CPIH)" if found[1] else "")


def _class_above(number: str | None) -> str | None:
    """Return the CDID of the class that a sub-class number stands under: 01.1.2.1 → of 01.1.2."""
    known = {each.coicop: each.key for each in ladder("uk-ons").values()}
    while number and "." in number:
        number = number.rpartition(".")[0]
        if number in known:
            return known[number]
    return None


def _day_first(text: str) -> date | None:
    """Return a release date, day first: 25-03-2026."""
    found = re.fullmatch(r"(\d{2})-(\d{2})-(\d{4})", text.strip())
    try:
        return date(int(found[3]), int(found[2]), int(found[1])) if found else None
    except ValueError:
        return None


def _read_json(source: Source, collector: Collector) -> None:
    found = source.json()
    about = found.get("description") or {}
    named = sorted(collector.wanted)
    alone = named[0].rpartition(":")[2] if len(named) == 1 else ""
    cdid = str(about.get("cdid") or alone).upper()
    if not cdid:
        collector.problems.append(_UNNAMED)
        return
    place = rung("uk-ons", cdid)
    fallback = f"CPI INDEX {place.coicop}: {place.title}" if place else cdid
    released_on = day_in(about.get("releaseDate"))
    into = _begin(cdid, str(about.get("title") or fallback), released_on, collector, True)
    if into is None:
        return
    for points in (found.get("months") or (), found.get("quarters") or ()):
        for point in points:
            period = read_period(str(point.get("date", "")))
            if period is None:
                collector.problem(None, "date", quoted(str(point.get("date"))),
                                  "a month such as 2026 FEB", "Download it again.")  # fmt: skip
            else:
                collector.take(into, period, str(point.get("value", "")).strip(), 1, "value")
        if into.monthly:
            return
