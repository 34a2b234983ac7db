"""Says how a row's fact differs from the one the book holds."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

from ingest.problem_codes import Code
from ingest.text.rows import Row
from ingest.text.sentences import quoted
from pricing.errors import Problem


def difference(row: Row, column: str, in_file: Any, in_book: Any, of_what: str) -> Problem:
    """Return the problem of a fact of something that is not the book's."""
    expected = f"{shown_fact(in_book)}, as the book has it for {quoted(of_what)}"
    if in_book is None:
        expected = f"an empty cell: the book has no {column} for {quoted(of_what)}"
    return row.problem(
        column,
        shown_fact(in_file),
        expected,
        "Correct the row, or load the file with --replace to change the fact from now on.",
        Code.FACT_DIFFERS,
    )


def shown_fact(value: Any) -> str:
    """Return a fact as a reader would write it.

    >>> shown_fact(Decimal("1.030000000")), shown_fact(None), shown_fact(("milk", "egg"))
    ('1.03', 'nothing', "'milk; egg'")
    """
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Decimal):
        plain = f"{value:f}"
        return plain.rstrip("0").rstrip(".") if "." in plain else plain
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, tuple):
        return quoted("; ".join(value)) if value else "none"
    if isinstance(value, str):
        return quoted(value)
    return repr(value)
