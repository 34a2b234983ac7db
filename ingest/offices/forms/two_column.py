"""Reads a CSV of two columns, date and value, of any office; the user names the series."""

from __future__ import annotations

import re

from ingest.offices.reading.collect import Collector
from ingest.offices.reading.csv_rows import csv_rows
from ingest.offices.reading.periods import read_period
from ingest.offices.reading.source import Source
from ingest.offices.reading.wording import base_label, is_adjusted, is_rate
from ingest.problem_codes import Code
from ingest.text.sentences import counted, quoted
from pricing.errors import Problem

NAME = "two columns"
_DELIMITERS = ",;\t"
_MOST_MARKS = 3  # delimiters in a row: a little more than two columns, to say so


def recognises(head: str) -> bool:
    """Tell whether a text is a narrow table whose first column holds months or quarters."""
    lines = [line for line in head.splitlines()[:4] if line.strip()][:2]
    mark = _delimiter(head)
    if mark is None or any(line.count(mark) > _MOST_MARKS for line in lines):
        return False
    periods = [read_period(line.split(mark, 1)[0].strip(' "')) for line in lines]
    return any(period is not None and period.frequency in "MQ" for period in periods)


def _delimiter(head: str) -> str | None:
    first = head.lstrip("\r\n").split("\n", 1)[0]
    return next((mark for mark in _DELIMITERS if mark in first), None)


def read(source: Source, collector: Collector, title: str | None = None) -> None:
    """Read the one series of the file into the collector, under the id that was named."""
    delimiter = _delimiter(source.head) or ","
    with source.lines() as lines:
        rows = csv_rows(lines, collector, delimiter)
        filled = ((line, row) for line, row in rows if any(cell.strip() for cell in row))
        line, first = next(filled, (0, []))
        if not first:
            return  # damaged, and said
        header = None if read_period(first[0]) else [cell.strip() for cell in first]
        if len(first) > 2:
            collector.problem(
                line, None, f"{len(first)} columns", "two: date and value",
                "Leave one series in the file; this program's own form for several is "
                "series,month,value.",
            )  # fmt: skip
            return
        named = _name(header, collector, title)
        if named is None:
            return
        into = collector.gather(named, line)
        into.title = title or (header[1] if header and len(header) > 1 else None)
        into.seasonally_adjusted = is_adjusted(into.title or "") or None
        into.base_label = base_label(into.title or "")
        if header is None:
            _take(first, line, collector, named)
        for line, row in filled:
            _take(row, line, collector, named)
            if collector.hopeless:
                return


def _name(header: list[str] | None, collector: Collector, title: str | None) -> str | None:
    """Return the series id, or None after a problem."""
    words = f"{title or ''} {' '.join(header or ())}"
    if is_rate(words):
        collector.problem(
            1, None, f"{quoted(words.strip())}, which is a rate, a change or a weight",
            "an index", "Download the index itself.",
        )  # fmt: skip
        return None
    if len(collector.wanted) != 1:
        example = re.sub(r"\s+", "-", header[1]) if header and len(header) > 1 else ""
        collector.problems.append(_unnamed(f"own:{example or 'FOOD'}"))
        return None
    return collector.named


def _unnamed(example: str) -> Problem:
    return Problem(
        line=None,
        column=None,
        found="a file of dates and values that does not say which series it is",
        expected="one series id and a title",
        remedy=f'Name it: --series {example} --title "Food, my office".',
        code=Code.SERIES_UNNAMED,
        series=example,
    )


def _take(row: list[str], line: int, collector: Collector, series: str) -> None:
    into = collector.series[series]
    if len(row) != 2:
        collector.problem(line, None, counted(len(row), "cell"), "two: date and value",
                          "If this is a decimal comma, write a point.")  # fmt: skip
        return
    period = read_period(row[0])
    if period is None:
        collector.problem(
            line, None, quoted(row[0]), "a month or quarter such as 2026-08 or 2026-Q2",
            "Write the year first, then the month.",
        )  # fmt: skip
    else:
        collector.take(into, period, row[1].strip(), line, "value")
