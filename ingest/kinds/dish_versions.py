"""Gathers the rows of a dishes file into versions, and compares them with the book's."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any

from ingest.kinds.checked import Checked
from ingest.kinds.differences import difference, shown_fact
from ingest.kinds.dish_lines import DishLine, read_line
from ingest.kinds.kitchen import Kitchen
from ingest.problem_codes import Code
from ingest.text.header import Heading
from ingest.text.rows import Row
from ingest.text.sentences import plural, quoted
from pricing.book.known import KnownVersion
from pricing.errors import Problem
from pricing.names import name_key

_FACTS = ("effective_from", "portions", "batch_weight_g")
TRIAL = ("minutes_waiting", "energy_kwh", "pots", "marks", "tasting_note")  # for the test bench
DETAILS = ("group", "minutes", "made_per_month", "target", *TRIAL)  # beside the recipe
SAME_VERSION = "another row of this version was refused"
_OTHER_RECIPE = "Give the new recipe a version of its own, or load the file with --replace."
Key = tuple[str, str]  # key of the dish, label of the version


@dataclass(frozen=True, kw_only=True)
class NewVersion:
    """A version as far as its rows can be read."""

    key: Key
    dish: str  # as first written
    lines: tuple[DishLine, ...]  # in the order of the file; at least one
    fine: bool  # every row could be read, and they agree
    details: Mapping[str, Any]  # DETAILS, as they are to be stored

    @property
    def first(self) -> Row:
        """The row on which the version begins."""
        return self.lines[0].row

    @property
    def effective_from(self) -> date:
        """The first day on which the version is in force."""
        day: date = self.first.value["effective_from"]
        return day

    @property
    def batch_weight_g(self) -> Decimal | None:
        """Weight of the whole batch."""
        weight: Decimal | None = self.first.value["batch_weight_g"]
        return weight

    @property
    def facts(self) -> tuple[Any, ...]:
        """What all rows of the version say alike."""
        return tuple(self.first.value[name] for name in _FACTS)


def read_versions(rows: Sequence[Row], kitchen: Kitchen, checked: Checked) -> list[NewVersion]:
    """Return the versions of a file.

    A version with a bad row is refused whole, because half a recipe is none. So is every version
    when a row does not say which it belongs to.
    """
    known = {_key(row) for row in rows if row.whole}
    by_key: dict[Key, list[Row]] = {}
    adrift = []
    for row in rows:
        key = _key(row)
        if key is not None and key in known:
            by_key.setdefault(key, []).append(row)
        else:
            adrift.append(row)
    versions = []
    for key, members in by_key.items():
        read = [read_line(row, kitchen, checked) for row in members]
        lines = tuple(line for line in read if line is not None)
        agreed = _agree(members, checked)
        fine = agreed and len(lines) == len(members) and not any(row.bad for row in members)
        if adrift:
            why = f"line {adrift[0].line} does not say which version it belongs to"
            checked.leave_out(members, why)
        elif not fine:
            checked.leave_out(members, SAME_VERSION)
        if lines:
            first = members[0].value
            versions.append(
                NewVersion(
                    key=key,
                    dish=first["dish"],
                    lines=lines,
                    fine=fine and not adrift,
                    details={name: first[name] for name in DETAILS},
                )
            )
    return versions


def with_details(version: NewVersion, in_book: KnownVersion, heading: Heading) -> NewVersion:
    """Return the version with the details that its file says nothing of as the book holds them."""
    details = {
        name: value if heading.has(name) else getattr(in_book, name)
        for name, value in version.details.items()
    }
    return replace(version, details=details)


def compare(
    version: NewVersion,
    in_book: KnownVersion,
    lines_in_book: Sequence[tuple[Any, ...]],
    kitchen: Kitchen,
) -> list[Problem]:
    """Return how a version differs from the book's of the same label; empty when it does not."""
    of_what = f"version {in_book.version} of {version.dish}"
    stated = {**{name: version.first.value[name] for name in _FACTS}, **version.details}
    problems = [
        difference(version.first, name, value, getattr(in_book, name), of_what)
        for name, value in stated.items()
        if value != getattr(in_book, name)
    ]
    if len(version.lines) != len(lines_in_book):
        problems.append(
            version.first.problem(
                "ingredient",
                f"{len(version.lines)} {plural(len(version.lines), 'line')}",
                f"{len(lines_in_book)}, as the book has for {quoted(of_what)}",
                _OTHER_RECIPE,
                Code.RECIPE_DIFFERS,
            )
        )
        return problems
    for place, (line, there) in enumerate(zip(version.lines, lines_in_book, strict=True), start=1):
        sub = kitchen.dishes.get(line.sub_key or "", (line.sub_key, ""))[0]
        if line.compared(sub) != there:
            value = line.row.value
            problems.append(
                line.row.problem(
                    "ingredient",
                    f"{value['quantity']} {value['unit']} {value['ingredient']} with other facts "
                    f"than the book's line {place}",
                    f"the lines that the book has for {quoted(of_what)}",
                    _OTHER_RECIPE,
                    Code.RECIPE_DIFFERS,
                )
            )
    return problems


def _key(row: Row) -> Key | None:
    dish, version = row.value["dish"], row.value["version"]
    return None if dish is None or version is None else (name_key(dish), version)


def _agree(members: Sequence[Row], checked: Checked) -> bool:
    """Tell whether the dish columns agree; a problem for each row that differs from the first."""
    before = len(checked.problems)
    whole = [row for row in members if row.whole]
    for name in (*_FACTS, *DETAILS):
        readable = [row for row in whole if name not in row.bad]
        for row in readable[1:]:
            first = readable[0]
            if row.value[name] != first.value[name]:
                checked.problems.append(
                    row.problem(
                        name,
                        shown_fact(row.value[name]),
                        f"{shown_fact(first.value[name])}, as on line {first.line} of the same "
                        "version",
                        "Make the rows of a version agree.",
                    )
                )
    return len(checked.problems) == before
