"""Rules of an index file: one value a month and release, and one description a series."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from ingest.kinds.checked import Checked, Options, Stored
from ingest.kinds.contradictions import Group, agreeing
from ingest.kinds.series_facts import SeriesFacts, read_series
from ingest.problem_codes import Code
from ingest.text.header import Heading
from ingest.text.rows import Row
from ingest.text.sentences import quoted
from pricing.book import known
from pricing.book.connect import Connection
from pricing.book.known import known_values


def check(con: Connection, rows: Sequence[Row], heading: Heading, options: Options) -> Checked:
    """Return what an index file adds to the book."""
    checked = Checked()
    rows = [
        row
        for row in rows
        if not row.bad
        and _has_begun(row, options.today, checked)
        and _can_be_released(row, checked)
    ]
    groups = agreeing(rows, key=_release, facts=_value, problem=_contradiction, checked=checked)
    described = read_series(con, rows, options, checked)
    in_book = known_values(con, {row.value["series"] for row in rows})
    new: list[Group] = []
    for group in groups:
        there = in_book.get(_release(group.first))
        if there == _value(group.first):
            checked.already += 1 + len(group.again)
        elif there is not None and not options.replace:
            _refuse(group, there, checked)
        else:
            new.append(group)
    bad = checked.bad_lines()
    new = [group for group in new if group.first.line not in bad]
    checked.added = len(new)
    checked.already += sum(len(group.again) for group in new)
    checked.store = lambda con: _store(new, described)
    return checked


def _has_begun(row: Row, today: date, checked: Checked) -> bool:
    """Refuse a month that is still to come: a costing of today would rest on a forecast."""
    month = row.value["month"]
    if month <= today:
        return True
    checked.problems.append(
        row.problem(
            "month",
            f"the month {month:%Y-%m} of {quoted(row.value['series'])}, which is still to come",
            f"months up to {today:%Y-%m}",
            "Correct the month; a forecast is no published index.",
        )
    )
    return False


def _can_be_released(row: Row, checked: Checked) -> bool:
    """Refuse a release dated before its month: it would count as older than any other."""
    month, released = row.value["month"], row.value["released_on"]
    if released is None or released >= month:
        return True
    checked.problems.append(
        row.problem(
            "released_on",
            f"{released}, before the month {month:%Y-%m} of the value",
            "the day on which the office released the value, in or after that month",
            "Correct the day, or leave it empty.",
        )
    )
    return False


def _release(row: Row) -> tuple[Any, ...]:
    return row.value["series"], row.value["month"], row.value["released_on"]


def _value(row: Row) -> float:
    return float(row.value["value"])


def _contradiction(first: Row, row: Row) -> tuple[str, str, str]:
    return (
        "value",
        f"{row.value['value']:f} for {row.value['month']:%Y-%m} of {row.value['series']} again",
        f"{first.value['value']:f} as on line {first.line}: one value a month and release",
    )


def _refuse(group: Group, there: float, checked: Checked) -> None:
    row = group.first
    released = row.value["released_on"]
    checked.problems.append(
        row.problem(
            "value",
            f"{row.value['value']:f} for {row.value['month']:%Y-%m} of "
            f"{quoted(row.value['series'])}",
            f"{there!r}, as the book has it "
            + (f"for the release of {released}" if released else "without a release date"),
            "Give the day of the new release in released_on, or load the file with --replace.",
            Code.VALUE_DIFFERS,
        )
    )
    group.leave_out_copies(checked)


def _store(new: list[Group], described: Sequence[SeriesFacts]) -> Stored:
    rows = [group.first for group in new]
    values: dict[str, list[Any]] = {
        "line": [row.line for row in rows],
        "raw": [row.raw for row in rows],
        "series": [row.value["series"] for row in rows],
        "month": [row.value["month"] for row in rows],
        "value": [_value(row) for row in rows],
        "released_on": [row.value["released_on"] for row in rows],
    }
    return Stored(tables={"series_value": values, **described_tables(described)})


def described_tables(described: Sequence[SeriesFacts]) -> dict[str, dict[str, list[Any]]]:
    """Return the rows that describe series anew, by table; details only where one is stated."""
    detailed = [
        each
        for each in described
        if any(each.facts[name] is not None for name in known.SERIES_DETAILS)
    ]
    return {
        "series": _columns(described, known.SERIES_FACTS),
        "series_detail": _columns(detailed, known.SERIES_DETAILS),
    }


def _columns(described: Sequence[SeriesFacts], names: Sequence[str]) -> dict[str, list[Any]]:
    return {
        "line": [each.row.line for each in described],
        "raw": [each.row.raw for each in described],
        "series": [each.series for each in described],
        **{name: [each.facts[name] for each in described] for name in names},
    }
