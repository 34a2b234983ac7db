"""Finds rows of one file that say different things of the same thing."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass

from ingest.kinds.checked import Checked
from ingest.text.rows import Row


@dataclass(frozen=True, kw_only=True)
class Group:
    """Rows that speak of one thing and agree."""

    first: Row
    again: tuple[Row, ...]


def agreeing(
    rows: Sequence[Row],
    *,
    thing: Callable[[Row], Hashable],
    facts: Callable[[Row], Hashable],
    problem: Callable[[Row, Row], tuple[str, str, str]],
    checked: Checked,
) -> list[Group]:
    """Return the rows by thing, in the order of their first row, where all rows of a thing agree.

    Where they do not, each later row that differs from the first gets a problem (`problem` gives
    column, found and expected), and none of them is stored: which one is right is not guessed.
    """
    by_thing: dict[Hashable, list[Row]] = {}
    for row in rows:
        by_thing.setdefault(thing(row), []).append(row)
    groups = []
    for first, *again in by_thing.values():
        differing = [row for row in again if facts(row) != facts(first)]
        for row in differing:
            column, found, expected = problem(first, row)
            checked.problems.append(
                row.problem(column, found, expected, "Keep the row that is right.")
            )
        if differing:
            lines = ", ".join(str(row.line) for row in differing)
            for row in (first, *again):
                checked.left_out.setdefault(row.line, f"line {lines} contradicts it")
        else:
            groups.append(Group(first=first, again=tuple(again)))
    return groups
