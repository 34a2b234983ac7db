"""Rules for the evidence of printed figures, which an export carries to a new book."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from ingest.kinds.checked import Checked
from ingest.text.rows import Row
from pricing.book.connect import Connection
from pricing.book.known import printed_key
from pricing.printed.evidence import sha256

Key = tuple[Any, ...]  # what two rows of one printed figure agree in
_COLUMNS = ("recorded_at", "evidence_sha256", "evidence")


class Evidence:
    """The evidence in a file of figures, for those new with it or in the book without any."""

    def __init__(self, con: Connection) -> None:
        figures = con.execute(
            "SELECT p.dish_id, p.version, p.published_on, p.cost_per_portion, p.currency, "
            "p.published_where, p.as_printed, p.row_id, e.figure_row FROM printed_now p "
            "LEFT JOIN printed_evidence_now e ON e.figure_row = p.row_id ORDER BY p.row_id DESC"
        ).fetchall()
        self._row_of: dict[Key, int] = {}  # figure → its row in the book
        self._kept: set[Key] = set()
        for *told, row_id, kept in figures:
            key = printed_key(*told)
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
            "figure_row": [row_id for _, row_id in taken],
            "recorded_at": [row.value["recorded_at"] for row, _ in taken],
            "evidence": [row.value["evidence"] for row, _ in taken],
            "evidence_sha256": [row.value["evidence_sha256"].lower() for row, _ in taken],
        }


def _readable(text: str) -> bool:
    try:
        return isinstance(json.loads(text).get("costing"), dict)
    except (ValueError, AttributeError):
        return False
