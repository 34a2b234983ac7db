"""Rules of a swaps file: two different known ingredients and one ratio."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ingest.header import Heading
from ingest.kinds.checked import Checked, Options, Stored
from ingest.kinds.contradictions import Group, agreeing
from ingest.kinds.differences import difference, shown_fact
from ingest.kitchen import Kitchen
from ingest.readers import quoted
from ingest.rows import Row
from pricing.book import known
from pricing.book.connect import Connection


def check(con: Connection, rows: Sequence[Row], heading: Heading, options: Options) -> Checked:
    """Return what a swaps file adds to the book."""
    kitchen, checked = Kitchen(con), Checked()
    pairs = {row.line: pair for row in rows if (pair := _pair(row, kitchen, checked))}
    groups = agreeing(
        [row for row in rows if row.line in pairs and not row.bad],
        thing=lambda row: pairs[row.line],
        facts=lambda row: (row.value["ratio"], row.value["note"]),
        problem=_contradiction,
        checked=checked,
    )
    held = known.swaps(con)
    new: list[tuple[Group, str | None]] = []  # and the note to store
    for group in groups:
        row = group.first
        ratio, note = row.value["ratio"], row.value["note"]
        there = held.get(pairs[row.line])
        if there is not None and not heading.has("note"):
            note = there[1]
        if there == (ratio, note):
            checked.already += 1 + len(group.again)
        elif there is not None and not options.replace:
            thing = f"{row.value['substitute']} for {row.value['ingredient']}"
            for column, here, other in (("ratio", ratio, there[0]), ("note", note, there[1])):
                if here != other:
                    checked.problems.append(difference(row, column, here, other, thing))
            for again in group.again:
                checked.left_out.setdefault(again.line, f"line {row.line} was refused")
        else:
            new.append((group, note))
    checked.added = len(new)
    checked.already += sum(len(group.again) for group, _ in new)
    checked.store = lambda con: _store(new, pairs)
    return checked


def _pair(row: Row, kitchen: Kitchen, checked: Checked) -> tuple[int, int] | None:
    """Return the ids of ingredient and substitute, or None after adding the row's problems."""
    found = []
    for column in ("ingredient", "substitute"):
        name = row.value[column]
        if name is None:
            continue
        ingredient = kitchen.find(name)
        if ingredient is None:
            checked.problems.append(kitchen.unknown_ingredient(row, column, name))
        else:
            found.append(ingredient.ingredient_id)
    if len(found) < 2:
        return None
    if found[0] == found[1]:
        checked.problems.append(
            row.problem(
                "substitute",
                f"{quoted(row.value['substitute'])}, which is the ingredient itself",
                "another ingredient",
                "Name what is taken in its place.",
            )
        )
        return None
    return found[0], found[1]


def _contradiction(first: Row, row: Row) -> tuple[str, str, str]:
    column = "ratio" if row.value["ratio"] != first.value["ratio"] else "note"
    return (
        column,
        f"the same swap again with {shown_fact(row.value[column])}",
        f"{shown_fact(first.value[column])} as on line {first.line}",
    )


def _store(new: list[tuple[Group, str | None]], pairs: dict[int, tuple[int, int]]) -> Stored:
    rows = [group.first for group, _ in new]
    columns: dict[str, list[Any]] = {
        "line": [row.line for row in rows],
        "raw": [row.raw for row in rows],
        "ingredient_id": [pairs[row.line][0] for row in rows],
        "substitute_id": [pairs[row.line][1] for row in rows],
        "ratio": [row.value["ratio"] for row in rows],
        "note": [note for _, note in new],
    }
    return Stored(tables={"swap": columns})
