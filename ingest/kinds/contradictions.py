"""Finds rows of one file that contradict each other."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass

from ingest.kinds.checked import Checked
from ingest.text.rows import Row


@dataclass(frozen=True, kw_only=True)
class Group:
    """Rows with one key that agree."""

    first: Row
    again: tuple[Row, ...]

    def leave_out_copies(self, checked: Checked) -> None:
        """Keep the other rows from being stored where the first one has a problem."""
        checked.leave_out(self.again, f"line {self.first.line} was refused")


def agreeing(
    rows: Sequence[Row],
    *,
    key: Callable[[Row], Hashable],
    facts: Callable[[Row], Hashable],
    problem: Callable[[Row, Row], tuple[str, str, str]],
    checked: Checked,
) -> list[Group]:
    """Return the rows by what they are about (`key`), in the order of the first, where all agree.

    Where they do not, each later row that differs from the first gets a problem (`problem` gives
    column, found and expected), and none of them is stored: which one is right is not guessed.
    """
    by_key: dict[Hashable, list[Row]] = {}
    for row in rows:
        by_key.setdefault(key(row), []).append(row)
    groups = []
    for first, *again in by_key.values():
        differing = [row for row in again if facts(row) != facts(first)]
        for row in differing:
            column, found, expected = problem(first, row)
            checked.problems.append(
                row.problem(column, found, expected, "Keep the row that is right.")
            )
        if differing:
            lines = ", ".join(str(row.line) for row in differing)
            checked.leave_out((first, *again), f"line {lines} contradicts it")
        else:
            groups.append(Group(first=first, again=tuple(again)))
    return groups
