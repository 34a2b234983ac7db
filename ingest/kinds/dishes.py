"""Rules of a dishes file: each version is taken whole, once its sub-recipes stand."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ingest.kinds.checked import Checked, Options, Stored
from ingest.kinds.dish_links import HeldDishes, without_broken_links
from ingest.kinds.dish_versions import (
    DETAILS,
    NewVersion,
    compare,
    leave_out,
    read_versions,
    with_details,
)
from ingest.kinds.kitchen import Kitchen
from ingest.text.header import Heading
from ingest.text.readers import quoted
from ingest.text.rows import Row
from pricing.book import known
from pricing.book.append import name_dishes, reserve_row_ids
from pricing.book.connect import Connection
from pricing.names import name_key


def check(con: Connection, rows: Sequence[Row], heading: Heading, options: Options) -> Checked:
    """Return what a dishes file adds to the book."""
    kitchen, checked = Kitchen(con), Checked()
    versions = read_versions(rows, kitchen, checked)
    held = HeldDishes(
        names={dish_id: (key, name) for key, (dish_id, name) in kitchen.dishes.items()},
        versions=known.versions(con),
        uses=known.dish_uses(con),
    )
    new = _without_held(con, versions, held, kitchen, heading, options, checked)
    names_in_file = {
        name_key(row.value["dish"]): row.value["dish"] for row in rows if row.value["dish"]
    }
    new = without_broken_links(new, names_in_file, held, kitchen, checked)
    new.sort(key=lambda version: (version.key[0], version.effective_from, version.key[1]))
    _remark_same_day(new, held, checked)
    checked.added = sum(len(version.lines) for version in new)
    checked.store = lambda con: _store(con, new)
    return checked


def _without_held(
    con: Connection,
    versions: list[NewVersion],
    held: HeldDishes,
    kitchen: Kitchen,
    heading: Heading,
    options: Options,
    checked: Checked,
) -> list[NewVersion]:
    """Return the versions that the book does not hold; those that differ from it get problems."""
    in_book = {(held.names[v.dish_id][0], v.version): v for v in held.versions}
    asked = [in_book[v.key].dish_id for v in versions if v.key in in_book]
    lines = known.lines(con, asked) if asked else {}
    new = []
    for version in versions:
        there = in_book.get(version.key)
        if there is None or not version.fine:
            new.append(version)
            continue
        version = with_details(version, there, heading)
        problems = compare(version, there, lines.get(there.row_id, []), kitchen)
        if not problems:
            checked.already += len(version.lines)
        elif options.replace:
            new.append(version)
        else:
            checked.problems += problems
            rows = [line.row for line in version.lines]
            leave_out(rows, checked, "this version differs from the book's")
    return new


def _remark_same_day(new: list[NewVersion], held: HeldDishes, checked: Checked) -> None:
    """Two versions from one day leave open which is in force: the one stored last is."""
    labels: dict[tuple[str, Any], dict[str, None]] = {}
    for v in held.versions:
        labels.setdefault((held.names[v.dish_id][0], v.effective_from), {})[v.version] = None
    for version in new:
        same_day = labels.setdefault((version.key[0], version.effective_from), {})
        same_day[version.key[1]] = None
        if len(same_day) > 1:
            checked.remarks.append(
                f"Versions {' and '.join(same_day)} of {quoted(version.dish)} take effect on the "
                f"same day, {version.effective_from}; name the version when you cost that dish."
            )


def _store(con: Connection, new: list[NewVersion]) -> Stored:
    ids = known.named_dishes(con)
    new = sorted(new, key=lambda version: version.first.line)  # of one day, the last written counts
    wanted: dict[str, str] = {}
    for version in new:
        if version.key[0] not in ids:
            wanted.setdefault(version.key[0], version.dish)
    ids |= name_dishes(con, wanted)
    row_ids = reserve_row_ids(con, len(new))
    first = [version.first for version in new]
    lines = [
        (row_id, place, line)
        for row_id, version in zip(row_ids, new, strict=True)
        for place, line in enumerate(version.lines, start=1)
    ]
    rest = [line.rest() for _, _, line in lines]
    names = ("measure_key", "state", "yield_pct", "pantry", "note")
    version_columns: dict[str, list[Any]] = {
        "row_id": row_ids,
        "line": [row.line for row in first],
        "raw": [row.raw for row in first],
        "dish_id": [ids[version.key[0]] for version in new],
        "version": [version.key[1] for version in new],
        "effective_from": [version.effective_from for version in new],
        "portions": [row.value["portions"] for row in first],
        "batch_weight_g": [version.batch_weight_g for version in new],
    }
    line_columns: dict[str, list[Any]] = {
        "line": [line.row.line for _, _, line in lines],
        "raw": [line.row.raw for _, _, line in lines],
        "version_row": [row_id for row_id, _, _ in lines],
        "position": [place for _, place, _ in lines],
        "ingredient_id": [line.ingredient_id for _, _, line in lines],
        "sub_dish_id": [ids[line.sub_key] if line.sub_key else None for _, _, line in lines],
        "quantity": [line.row.value["quantity"] for _, _, line in lines],
        "unit": [line.row.value["unit"] for _, _, line in lines],
        "amount": [line.amount for _, _, line in lines],
        "dimension": [line.dimension for _, _, line in lines],
        **{name: [each[at] for each in rest] for at, name in enumerate(names)},
    }
    detailed = [
        (row_id, version)
        for row_id, version in zip(row_ids, new, strict=True)
        if any(value is not None for value in version.details.values())
    ]
    detail_columns: dict[str, list[Any]] = {
        "line": [version.first.line for _, version in detailed],
        "raw": [version.first.raw for _, version in detailed],
        "version_row": [row_id for row_id, _ in detailed],
        **{
            "dish_group" if name == "group" else name: [v.details[name] for _, v in detailed]
            for name in DETAILS
        },
    }
    return Stored(
        tables={
            "dish_version": version_columns,
            "dish_line": line_columns,
            "dish_detail": detail_columns,
        }
    )
