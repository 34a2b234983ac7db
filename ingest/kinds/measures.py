"""Rules of a measures file: one weight, as purchased, a measure of an ingredient."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ingest.kinds.checked import Checked, Options, Stored
from ingest.kinds.contradictions import Group, agreeing
from ingest.kinds.differences import difference, shown_fact
from ingest.kinds.kitchen import Kitchen
from ingest.text.header import Heading
from ingest.text.readers import quoted
from ingest.text.rows import Row
from pricing.book.connect import Connection
from pricing.book.known import KnownMeasure
from pricing.measures.read import is_unit
from pricing.names import name_key


def check(con: Connection, rows: Sequence[Row], heading: Heading, options: Options) -> Checked:
    """Return what a measures file adds to the book."""
    kitchen, checked = Kitchen(con), Checked()
    groups = agreeing(
        [row for row in rows if _is_known(row, kitchen, checked) and not row.bad],
        thing=lambda row: _thing(row, kitchen),
        facts=lambda row: (row.value["grams"], row.value["source"]),
        problem=_contradiction,
        checked=checked,
    )
    new: list[tuple[Group, str | None]] = []  # and the source to store
    for group in groups:
        ingredient_id, key = _thing(group.first, kitchen)
        held = kitchen.measures.get(ingredient_id, {}).get(key)
        row = group.first
        source = row.value["source"] if heading.has("source") or held is None else held.source
        same = held is not None and (held.grams, held.source) == (row.value["grams"], source)
        if same:
            checked.already += 1 + len(group.again)
        elif held is not None and not options.replace:
            _refuse(group, held, source, checked)
        else:
            new.append((group, source))
    for group, _ in new:
        measure, name = group.first.value["measure"], group.first.value["ingredient"]
        if is_unit(measure, kitchen.system):
            checked.remarks.append(
                f"{quoted(measure)} of {name} now means this measure, not the unit of that name."
            )
    checked.added = len(new)
    checked.already += sum(len(group.again) for group, _ in new)
    checked.store = lambda con: _store(new, kitchen)
    return checked


def _is_known(row: Row, kitchen: Kitchen, checked: Checked) -> bool:
    name = row.value["ingredient"]
    if name is None:
        return False
    if kitchen.find(name) is None:
        checked.problems.append(kitchen.unknown_ingredient(row, "ingredient", name))
        return False
    return True


def _thing(row: Row, kitchen: Kitchen) -> tuple[int, str]:
    ingredient = kitchen.find(row.value["ingredient"])
    if ingredient is None:
        raise KeyError(row.value["ingredient"])
    return ingredient.ingredient_id, name_key(row.value["measure"])


def _contradiction(first: Row, row: Row) -> tuple[str, str, str]:
    column = "grams" if row.value["grams"] != first.value["grams"] else "source"
    return (
        column,
        f"{quoted(row.value['measure'])} again with {shown_fact(row.value[column])}",
        f"{shown_fact(first.value[column])} as on line {first.line}",
    )


def _refuse(group: Group, held: KnownMeasure, source: str | None, checked: Checked) -> None:
    row = group.first
    thing = f"{row.value['measure']} of {row.value['ingredient']}"
    if row.value["grams"] != held.grams:
        checked.problems.append(difference(row, "grams", row.value["grams"], held.grams, thing))
    if source != held.source:
        checked.problems.append(difference(row, "source", source, held.source, thing))
    for again in group.again:
        checked.left_out.setdefault(again.line, f"line {row.line} was refused")


def _store(new: list[tuple[Group, str | None]], kitchen: Kitchen) -> Stored:
    rows = [group.first for group, _ in new]
    things = [_thing(row, kitchen) for row in rows]
    columns: dict[str, list[Any]] = {
        "line": [row.line for row in rows],
        "raw": [row.raw for row in rows],
        "ingredient_id": [thing[0] for thing in things],
        "measure": [row.value["measure"] for row in rows],
        "measure_key": [thing[1] for thing in things],
        "grams": [row.value["grams"] for row in rows],
        "source": [source for _, source in new],
    }
    return Stored(tables={"measure": columns}, touched=frozenset(columns["ingredient_id"]))
