"""Rules of a swaps file: one thing in the place of another, each swap said once."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ingest.kinds.checked import Checked, Options, Stored
from ingest.kinds.contradictions import agreeing
from ingest.kinds.differences import difference, shown_fact
from ingest.kinds.kitchen import Kitchen
from ingest.kinds.swap_rows import SwapRow, read_swaps
from ingest.text.header import Heading
from ingest.text.rows import Row
from pricing.book import known
from pricing.book.append import reserve_row_ids
from pricing.book.connect import Connection
from pricing.book.known import SWAP_FACTS
from pricing.names import name_key

_New = tuple[SwapRow, dict[str, Any]]  # and its facts as they are to be stored


def check(con: Connection, rows: Sequence[Row], heading: Heading, options: Options) -> Checked:
    """Return what a swaps file adds to the book."""
    checked = Checked()
    swaps = {each.row.line: each for each in read_swaps(Kitchen(con), rows, checked)}
    groups = agreeing(
        [row for row in rows if row.line in swaps],
        key=lambda row: swaps[row.line].key,
        facts=lambda row: tuple(swaps[row.line].facts(heading, None).values()),
        problem=_contradiction,
        checked=checked,
    )
    in_book = known.swaps(con)
    new: list[_New] = []
    for group in groups:
        swap = swaps[group.first.line]
        there = in_book.get(swap.key)
        facts = swap.facts(heading, there)
        if there == facts:
            checked.already += 1 + len(group.again)
        elif there is not None and not options.replace:
            value = swap.row.value
            of_what = f"{value['substitute']} for {value['ingredient']}"
            checked.problems += [
                difference(swap.row, name, facts[name], there[name], of_what)
                for name in SWAP_FACTS
                if facts[name] != there[name]
            ]
            group.leave_out_copies(checked)
        else:
            new.append((swap, facts))
            checked.already += len(group.again)
    checked.added = len(new)
    checked.store = lambda con: _store(con, new)
    return checked


def _contradiction(first: Row, row: Row) -> tuple[str, str, str]:
    column = next(name for name in SWAP_FACTS if row.value[name] != first.value[name])
    return (
        column,
        f"the same swap again with {shown_fact(row.value[column])}",
        f"{shown_fact(first.value[column])} as on line {first.line}",
    )


def _store(con: Connection, new: list[_New]) -> Stored:
    row_ids = reserve_row_ids(con, len(new))
    detailed = [
        (row_id, swap, facts)
        for row_id, (swap, facts) in zip(row_ids, new, strict=True)
        if _has_detail(swap, facts)
    ]
    swap_columns: dict[str, list[Any]] = {
        "row_id": row_ids,
        "line": [swap.row.line for swap, _ in new],
        "raw": [swap.row.raw for swap, _ in new],
        "ingredient_id": [swap.key[0] for swap, _ in new],
        "substitute_id": [swap.key[1] for swap, _ in new],
        "ratio": [facts["ratio"] for _, facts in new],
        "note": [facts["note"] for _, facts in new],
    }
    values = [swap.row.value for _, swap, _ in detailed]
    keys = ("pack_amount", "pack_dimension", "pack_measure_key")  # the last three of SWAP_KEY
    detail_columns: dict[str, list[Any]] = {
        "line": [swap.row.line for _, swap, _ in detailed],
        "raw": [swap.row.raw for _, swap, _ in detailed],
        "swap_row": [row_id for row_id, _, _ in detailed],
        "substitute_dish_id": [swap.dish_id for _, swap, _ in detailed],
        **{name: [value[name] for value in values] for name in ("supplier", "product", "pack")},
        **{
            f"{name}_key": [name_key(value[name] or "") for value in values]
            for name in ("supplier", "product")
        },
        **{name: [swap.key[at - 3] for _, swap, _ in detailed] for at, name in enumerate(keys)},
        **{name: [facts[name] for _, _, facts in detailed] for name in SWAP_FACTS[2:]},
    }
    return Stored(tables={"swap": swap_columns, "swap_detail": detail_columns})


def _has_detail(swap: SwapRow, facts: dict[str, Any]) -> bool:
    plain = {"ratio_state": "as_purchased", "disturbance": None}
    return any(part not in (None, "") for part in swap.key[2:]) or any(
        facts[name] != plain.get(name, ()) for name in SWAP_FACTS[2:]
    )
