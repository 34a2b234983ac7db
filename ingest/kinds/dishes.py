"""Rules of a dishes file: each version is taken whole, once its sub-recipes stand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from ingest.kinds.checked import Checked, Options, Stored
from ingest.kinds.dish_lines import REST, is_set_aside
from ingest.kinds.dish_links import DishesBefore, without_broken_links
from ingest.kinds.dish_versions import (
    DETAILS,
    TRIAL,
    NewVersion,
    compare,
    read_versions,
    with_details,
)
from ingest.kinds.kitchen import Kitchen
from ingest.report import Remark
from ingest.text.header import Heading
from ingest.text.rows import Row
from ingest.text.sentences import counted, quoted
from pricing.book import known
from pricing.book.append import name_dishes, name_ingredients, reserve_row_ids
from pricing.book.connect import Connection
from pricing.names import WAITING, name_key

_DETAIL = tuple(name for name in DETAILS if name not in TRIAL)  # of the table dish_detail
_Numbered = Sequence[tuple[int, NewVersion]]  # versions with the ids of their rows


def check(con: Connection, rows: Sequence[Row], heading: Heading, options: Options) -> Checked:
    """Return what a dishes file adds to the book."""
    kitchen, checked = Kitchen(con), Checked()
    rows = [row for row in rows if not is_set_aside(row, kitchen)]
    versions = read_versions(rows, kitchen, checked)
    before = DishesBefore(
        names={dish_id: (key, name) for key, (dish_id, name) in kitchen.dishes.items()},
        versions=known.versions(con),
        uses=known.dish_uses(con),
    )
    new = _not_in_book(versions, before, kitchen, heading, options, checked)
    names_in_file = {
        name_key(row.value["dish"]): row.value["dish"] for row in rows if row.value["dish"]
    }
    new = without_broken_links(new, names_in_file, before, kitchen, checked)
    new.sort(key=lambda version: (version.key[0], version.effective_from, version.key[1]))
    _remark_same_day(new, before, checked)
    checked.added = sum(len(version.lines) for version in new)
    _remark_waiting(new, checked)
    checked.store = lambda con: _store(con, new)
    return checked


def _not_in_book(
    versions: list[NewVersion],
    before: DishesBefore,
    kitchen: Kitchen,
    heading: Heading,
    options: Options,
    checked: Checked,
) -> list[NewVersion]:
    """Return the versions that the book does not have; those that differ from it get problems."""
    in_book = {(before.names[v.dish_id][0], v.version): v for v in before.versions}
    lines = kitchen.dish_lines([in_book[v.key].dish_id for v in versions if v.key in in_book])
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
            checked.leave_out(rows, "this version differs from the book's")
    return new


def _remark_same_day(new: list[NewVersion], before: DishesBefore, checked: Checked) -> None:
    """Two versions from one day leave open which is in force: the one stored last is."""
    labels: dict[tuple[str, Any], dict[str, None]] = {}
    for v in before.versions:
        labels.setdefault((before.names[v.dish_id][0], v.effective_from), {})[v.version] = None
    for version in new:
        same_day = labels.setdefault((version.key[0], version.effective_from), {})
        same_day[version.key[1]] = None
        if len(same_day) > 1:
            checked.remarks.append(
                f"Versions {' and '.join(same_day)} of {quoted(version.dish)} take effect on the "
                f"same day, {version.effective_from}; name the version when you cost that dish."
            )


def _remark_waiting(new: list[NewVersion], checked: Checked) -> None:
    for version in new:
        waiting = [line.waiting for line in version.lines if line.waiting is not None]
        checked.waiting += len(waiting)
        if waiting:
            named = ", ".join(map(quoted, waiting[:5])) + (" and others" if waiting[5:] else "")
            wait = "waits" if len(waiting) == 1 else "wait"
            lines = f"{counted(len(waiting), 'line')} of {quoted(version.dish)}"
            checked.remarks.append(
                Remark(
                    f"{lines} {wait} for a decision: {named}. Until then its cost is 'at least'. "
                    "See `portiondrift tray`.",
                    would=f"{lines} would wait for a decision: {named}.",
                )
            )


def _store(con: Connection, new: list[NewVersion]) -> Stored:
    ids = known.named_dishes(con)
    new = sorted(new, key=lambda version: version.first.line)  # of one day, the last written counts
    wanted: dict[str, str] = {}
    for version in new:
        if version.key[0] not in ids:
            wanted.setdefault(version.key[0], version.dish)
    ids |= name_dishes(con, wanted)
    waiting = _name_waiting(con, new)
    numbered = list(zip(reserve_row_ids(con, len(new)), new, strict=True))
    return Stored(
        tables={
            "dish_version": _version_columns(numbered, ids),
            "dish_line": _line_columns(numbered, ids, waiting),
            "dish_detail": _detail_columns(numbered, _DETAIL),
            "dish_trial": _detail_columns(numbered, TRIAL),
        }
    )


def _version_columns(numbered: _Numbered, ids: Mapping[str, int]) -> dict[str, list[Any]]:
    first = [version.first for _, version in numbered]
    return {
        "row_id": [row_id for row_id, _ in numbered],
        "line": [row.line for row in first],
        "raw": [row.raw for row in first],
        "dish_id": [ids[version.key[0]] for _, version in numbered],
        "version": [version.key[1] for _, version in numbered],
        "effective_from": [version.effective_from for _, version in numbered],
        "portions": [row.value["portions"] for row in first],
        "batch_weight_g": [version.batch_weight_g for _, version in numbered],
    }


def _name_waiting(con: Connection, new: list[NewVersion]) -> dict[str, int]:
    """Return words → the id of the name under which a line that waits stands in its dish."""
    words = {line.waiting for version in new for line in version.lines} - {None}
    if not words:
        return {}
    names = {each: f"{WAITING} {each}" for each in sorted(filter(None, words))}
    ids = known.named_ingredients(con)
    unnamed = {name_key(name): name for name in names.values() if name_key(name) not in ids}
    ids |= name_ingredients(con, unnamed)
    return {each: ids[name_key(name)] for each, name in names.items()}


def _line_columns(
    numbered: _Numbered, ids: Mapping[str, int], waiting: Mapping[str, int]
) -> dict[str, list[Any]]:
    lines = [line for _, version in numbered for line in version.lines]
    rest = [line.rest() for line in lines]
    return {
        "line": [line.row.line for line in lines],
        "raw": [line.row.raw for line in lines],
        "version_row": [row_id for row_id, version in numbered for _ in version.lines],
        "position": [
            place for _, version in numbered for place, _ in enumerate(version.lines, start=1)
        ],
        "ingredient_id": [
            line.ingredient_id if line.waiting is None else waiting[line.waiting] for line in lines
        ],
        "sub_dish_id": [ids[line.sub_key] if line.sub_key else None for line in lines],
        "quantity": [line.row.value["quantity"] for line in lines],
        "unit": [line.row.value["unit"] for line in lines],
        "amount": [line.amount for line in lines],
        "dimension": [line.dimension for line in lines],
        **{name: [each[place] for each in rest] for place, name in enumerate(REST)},
    }


def _detail_columns(numbered: _Numbered, names: Sequence[str]) -> dict[str, list[Any]]:
    """Return some details of the versions that state any of them."""
    detailed = [
        (row_id, version)
        for row_id, version in numbered
        if any(version.details[name] is not None for name in names)
    ]
    return {
        "line": [version.first.line for _, version in detailed],
        "raw": [version.first.raw for _, version in detailed],
        "version_row": [row_id for row_id, _ in detailed],
        **{
            "dish_group" if name == "group" else name: [v.details[name] for _, v in detailed]
            for name in names
        },
    }
