"""Reads what an index file says of each series beside its values: title, parent and the like."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from ingest.kinds.checked import Checked, Options
from ingest.kinds.differences import difference, shown_fact
from ingest.text.rows import Row
from ingest.text.sentences import quoted
from pricing.book import known
from pricing.book.connect import Connection
from pricing.cycles import circle_through, near_circles

_FACTS = (*known.SERIES_FACTS, *known.SERIES_DETAILS)
_REFUSED = "what the file says of its series was refused"


@dataclass(frozen=True, kw_only=True)
class SeriesFacts:
    """A series to describe anew."""

    series: str
    row: Row  # the first that says something of it
    facts: Mapping[str, Any]


def read_series(
    con: Connection, rows: Sequence[Row], options: Options, checked: Checked
) -> list[SeriesFacts]:
    """Return the series that are new to the book or say more than it knows.

    An empty cell says nothing. Rows of a series that is described in two ways are all refused.
    """
    in_book = known.series(con)
    by_series: dict[str, list[Row]] = {}
    for row in rows:
        by_series.setdefault(row.value["series"], []).append(row)
    stated: dict[str, dict[str, Row]] = {}  # series → fact → the first row that states it
    for series, members in by_series.items():
        row_of = _agreed(series, members, checked)
        if row_of is None or not _agrees_with_book(row_of, in_book.get(series), options, checked):
            checked.leave_out(members, _REFUSED)
        else:
            stated[series] = row_of
    for series in _in_circles(stated, in_book, checked):
        checked.leave_out(by_series[series], _REFUSED)
        del stated[series]
    _remark_parents(stated, in_book, checked)
    new = []
    for series, row_of in stated.items():
        before = in_book.get(series)
        facts = {name: None if before is None else before[name] for name in _FACTS}
        facts |= {name: row.value[name] for name, row in row_of.items()}
        if facts != before:
            row = next(iter(row_of.values()), by_series[series][0])
            new.append(SeriesFacts(series=series, row=row, facts=facts))
    return new


def _agreed(series: str, rows: Sequence[Row], checked: Checked) -> dict[str, Row] | None:
    """Return the row that states each fact, or None after a problem for each that differs."""
    row_of: dict[str, Row] = {}
    fine = True
    for row in rows:
        for name in _FACTS:
            if row.value[name] is None:
                continue
            first = row_of.setdefault(name, row)
            if row.value[name] != first.value[name]:
                fine = False
                checked.problems.append(
                    row.problem(
                        name,
                        f"{shown_fact(row.value[name])} for {quoted(series)}",
                        f"{shown_fact(first.value[name])} as on line {first.line}",
                        "Make the rows of a series agree.",
                    )
                )
    return row_of if fine else None


def _agrees_with_book(
    row_of: Mapping[str, Row], before: Mapping[str, Any] | None, options: Options, checked: Checked
) -> bool:
    if before is None or options.replace:
        return True
    fine = True
    for name, row in row_of.items():
        if before[name] is not None and row.value[name] != before[name]:
            fine = False
            series = row.value["series"]
            checked.problems.append(difference(row, name, row.value[name], before[name], series))
    return fine


def _in_circles(
    stated: Mapping[str, Mapping[str, Row]],
    in_book: Mapping[str, Mapping[str, Any]],
    checked: Checked,
) -> list[str]:
    """Return the series of the file whose parents would lead back to them."""
    parents = {series: [facts["parent"]] for series, facts in in_book.items() if facts["parent"]}
    row_of = {series: rows["parent"] for series, rows in stated.items() if "parent" in rows}
    parents |= {series: [row.value["parent"]] for series, row in row_of.items()}
    suspects = near_circles(parents)
    circling = []
    for series, row in row_of.items():
        if series in suspects and (path := circle_through(parents, series, row.value["parent"])):
            circling.append(series)
            checked.problems.append(
                row.problem(
                    "parent",
                    f"a series that is its own parent: {' → '.join(path)}",
                    "parents that lead to wider series only",
                    "Correct the parent.",
                )
            )
    return circling


def _remark_parents(
    stated: Mapping[str, Mapping[str, Row]], in_book: Mapping[str, Any], checked: Checked
) -> None:
    parents = {rows["parent"].value["parent"] for rows in stated.values() if "parent" in rows}
    for parent in sorted(parents - set(in_book) - set(stated)):
        checked.remarks.append(
            f"The book has no series {quoted(parent)} yet; the ladder of series ends below it."
        )
