"""Rules for the evidence of published figures, which an export carries to a new book."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from ingest.kinds.checked import Checked
from ingest.text.rows import Row
from pricing.book.connect import Connection
from pricing.names import name_key
from pricing.printed.evidence import sha256

Key = tuple[Any, ...]  # what two rows of one published figure agree in
_COLUMNS = ("recorded_at", "evidence_sha256", "evidence")


class Evidence:
    """The evidence in a claims file, for figures new with it or in the book without any."""

    def __init__(self, con: Connection) -> None:
        figures = con.execute(
            "SELECT c.dish_id, c.version, c.published_on, c.cost_per_portion, c.currency, "
            "c.published_where, c.row_id, e.claim_row FROM claim_now c "
            "LEFT JOIN claim_evidence_now e ON e.claim_row = c.row_id ORDER BY c.row_id DESC"
        ).fetchall()
        self._row_of: dict[Key, int] = {}  # figure → its row in the book
        self._kept: set[Key] = set()
        for *facts, where, row_id, kept in figures:
            key = (*facts, name_key(where or ""))
            self._row_of[key] = row_id
            if kept is not None:
                self._kept.add(key)
        self._new: dict[Key, Row] = {}
        self._first_line: dict[Key, int] = {}

    def take(self, row: Row, key: Key, checked: Checked) -> bool:
        """Keep a row's evidence, if it has any; False after adding its problem."""
        value = row.value
        given = [name for name in _COLUMNS if value[name] is not None]
        if not given:
            self._first_line.setdefault(key, row.line)
            return True
        lacking = [name for name in _COLUMNS if value[name] is None]
        problem = None
        if lacking:
            problem = (lacking[0], "an empty cell", "all three of " + ", ".join(_COLUMNS))
        elif sha256(value["evidence"]) != value["evidence_sha256"].lower():
            problem = ("evidence", "a text that is not as it was kept", "its SHA-256 to agree")
        elif not _readable(value["evidence"]):
            problem = ("evidence", "a text that cannot be read", "the JSON of a costing")
        if problem is not None:
            column, found, expected = problem
            remedy = "Take the file as `portiondrift export` wrote it, or leave these columns out."
            checked.problems.append(row.problem(column, found, expected, remedy))
            return False
        self._first_line.setdefault(key, row.line)
        if key not in self._kept:
            self._new.setdefault(key, row)
        return True

    def columns(self, row_id_at: Mapping[int, int]) -> dict[str, list[Any]]:
        """Return what is to be stored; `row_id_at`: line → row of a figure new with this file."""
        taken = [
            (row, row_id_at.get(self._first_line[key], self._row_of.get(key)))
            for key, row in self._new.items()
        ]
        return {
            "line": [row.line for row, _ in taken],
            "raw": [None for _ in taken],  # the text itself is kept
            "claim_row": [row_id for _, row_id in taken],
            "recorded_at": [row.value["recorded_at"] for row, _ in taken],
            "evidence": [row.value["evidence"] for row, _ in taken],
            "evidence_sha256": [row.value["evidence_sha256"].lower() for row, _ in taken],
        }


def _readable(text: str) -> bool:
    try:
        return isinstance(json.loads(text).get("costing"), dict)
    except (ValueError, AttributeError):
        return False
