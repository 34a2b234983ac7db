"""Rules of a claims file: published figures of dish versions that the book has."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from ingest.kinds.checked import Checked, Options, Stored
from ingest.kinds.claim_evidence import Evidence
from ingest.kinds.kitchen import Kitchen
from ingest.text.header import Heading
from ingest.text.rows import Row
from ingest.text.sentences import quoted
from pricing.book import known
from pricing.book.append import reserve_row_ids
from pricing.book.connect import Connection
from pricing.names import name_key, nearest


def check(con: Connection, rows: Sequence[Row], heading: Heading, options: Options) -> Checked:
    """Return what a claims file adds to the book."""
    kitchen, checked = Kitchen(con), Checked()
    labels: dict[int, list[str]] = {}
    for version in known.versions(con):
        labels.setdefault(version.dish_id, []).append(version.version)
    seen = {_key(*claim) for claim in known.claims(con)}
    evidence = Evidence(con)
    new: list[tuple[Row, int]] = []
    for row in rows:
        dish_id = _dish(row, kitchen, labels, options, checked)
        if dish_id is None or row.bad:
            continue
        value = row.value
        key = _key(
            dish_id,
            value["version"],
            value["published_on"],
            value["cost_per_portion"],
            value["currency"],
            value["where"],
        )
        if not evidence.take(row, key, checked):
            continue
        if key in seen:
            checked.already += 1
        else:
            seen.add(key)
            new.append((row, dish_id))
    checked.added = len(new)
    checked.store = lambda con: _store(con, new, evidence)
    return checked


def _key(*claim: Any) -> tuple[Any, ...]:
    """Return what two rows of one published figure agree in."""
    *facts, where = claim
    return (*facts, name_key(where or ""))


def _dish(
    row: Row,
    kitchen: Kitchen,
    labels: Mapping[int, Sequence[str]],
    options: Options,
    checked: Checked,
) -> int | None:
    """Return the id of the claim's dish, or None after adding the row's problems."""
    before = len(checked.problems)
    value = row.value
    if value["published_on"] is not None and value["published_on"] > options.today:
        checked.problems.append(
            row.problem(
                "published_on",
                f"{value['published_on']}, which is in the future",
                f"a date up to today, {options.today}",
                "Load the figure once it is published.",
            )
        )
    if value["dish"] is None or not row.whole:
        return None
    dish_id, name = kitchen.dishes.get(name_key(value["dish"]), (None, ""))
    if dish_id is None:
        checked.problems.append(kitchen.unknown_dish(row, "dish", value["dish"]))
    elif value["version"] is not None and value["version"] not in labels.get(dish_id, ()):
        near = nearest(value["version"], labels.get(dish_id, ()), most=1)
        checked.problems.append(
            row.problem(
                "version",
                f"version {quoted(value['version'])} of {name}",
                f"one of {', '.join(labels.get(dish_id, ()))}",
                f"Labels compare exactly. Nearest: {near[0]}." if near else "Correct the version.",
            )
        )
    return dish_id if len(checked.problems) == before else None


def _store(con: Connection, new: list[tuple[Row, int]], evidence: Evidence) -> Stored:
    value = [row.value for row, _ in new]
    row_ids = reserve_row_ids(con, len(new))
    columns: dict[str, list[Any]] = {
        "row_id": row_ids,
        "line": [row.line for row, _ in new],
        "raw": [row.raw for row, _ in new],
        "dish_id": [dish_id for _, dish_id in new],
        "published_where": [each["where"] for each in value],
        **{
            name: [each[name] for each in value]
            for name in ("version", "published_on", "cost_per_portion", "currency", "note")
        },
    }
    at = dict(zip((row.line for row, _ in new), row_ids, strict=True))
    return Stored(tables={"claim": columns, "claim_evidence": evidence.columns(at)})
