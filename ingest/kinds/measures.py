"""Rules of a measures file: one weight, as purchased, a measure of an ingredient."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ingest.kinds.checked import Checked, Options, Stored
from ingest.kinds.contradictions import Group, agreeing
from ingest.kinds.differences import difference, shown_fact
from ingest.kinds.kitchen import Kitchen
from ingest.text.header import Heading
from ingest.text.rows import Row
from ingest.text.sentences import quoted
from pricing.book.connect import Connection
from pricing.book.known import KnownMeasure
from pricing.measures.read import is_unit
from pricing.names import name_key


def check(con: Connection, rows: Sequence[Row], heading: Heading, options: Options) -> Checked:
    """Return what a measures file adds to the book."""
    kitchen, checked = Kitchen(con), Checked()
    groups = agreeing(
        [row for row in rows if _is_known(row, kitchen, checked) and not row.bad],
        key=lambda row: _key(row, kitchen),
        facts=lambda row: (row.value["grams"], row.value["source"]),
        problem=_contradiction,
        checked=checked,
    )
    new: list[tuple[Group, str | None]] = []  # and the source to store
    for group in groups:
        ingredient_id, measure_key = _key(group.first, kitchen)
        in_book = kitchen.measures.get(ingredient_id, {}).get(measure_key)
        row = group.first
        source = row.value["source"]
        if in_book is not None and not heading.has("source"):
            source = in_book.source
        facts = (row.value["grams"], source)
        if in_book is not None and (in_book.grams, in_book.source) == facts:
            checked.already += 1 + len(group.again)
        elif in_book is not None and not options.replace:
            _refuse(group, in_book, source, checked)
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


def _key(row: Row, kitchen: Kitchen) -> tuple[int, str]:
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


def _refuse(group: Group, in_book: KnownMeasure, source: str | None, checked: Checked) -> None:
    row = group.first
    of_what = f"{row.value['measure']} of {row.value['ingredient']}"
    for name, in_file, there in (
        ("grams", row.value["grams"], in_book.grams),
        ("source", source, in_book.source),
    ):
        if in_file != there:
            checked.problems.append(difference(row, name, in_file, there, of_what))
    group.leave_out_copies(checked)


def _store(new: list[tuple[Group, str | None]], kitchen: Kitchen) -> Stored:
    rows = [group.first for group, _ in new]
    keys = [_key(row, kitchen) for row in rows]
    columns: dict[str, list[Any]] = {
        "line": [row.line for row in rows],
        "raw": [row.raw for row in rows],
        "ingredient_id": [ingredient_id for ingredient_id, _ in keys],
        "measure": [row.value["measure"] for row in rows],
        "measure_key": [measure_key for _, measure_key in keys],
        "grams": [row.value["grams"] for row in rows],
        "source": [source for _, source in new],
    }
    return Stored(tables={"measure": columns}, touched=frozenset(columns["ingredient_id"]))
