"""Compares the make of a book (steps taken, tables, views, guards) with what this version makes."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

import duckdb

from pricing.book import migrate
from pricing.book.connect import Connection
from pricing.book.derive import refresh_prices

_OBJECTS = """
SELECT 'table' AS kind, table_name AS name, sql FROM duckdb_tables() WHERE NOT internal
UNION ALL SELECT 'view', view_name, sql FROM duckdb_views() WHERE NOT internal
UNION ALL SELECT 'trigger', trigger_name, sql FROM duckdb_triggers()
UNION ALL SELECT 'macro', function_name,
                 array_to_string(parameters, ', ') || ': ' || macro_definition
          FROM duckdb_functions() WHERE NOT internal
UNION ALL SELECT 'sequence', sequence_name, NULL FROM duckdb_sequences()
"""


def steps(con: Connection) -> Iterator[str]:
    """Yield a sentence for every step whose text is not the one this version would take."""
    known = {step.number: step for step in migrate.migrations()}
    for number, sha256 in migrate.applied(con).items():
        if number not in known or known[number].sha256 != sha256:
            yield (
                f"Found structure step {number} of this book to differ from this version's; "
                "expected the same text. The book was made by a changed portiondrift: open it with "
                "that one, `portiondrift export` it, and load the files into a new book."
            )


def objects(con: Connection) -> Iterator[str]:
    """Yield a sentence for every table, view, trigger or macro that is missing or altered."""
    made = {(kind, name): sql for kind, name, sql in con.execute(_OBJECTS).fetchall()}
    for (kind, name), sql in _expected().items():
        if (kind, name) not in made:
            found = f"no {kind} {name}"
        elif made[kind, name] != sql:
            found = f"the {kind} {name} altered"
        else:
            continue
        guard = "Without it rows could be edited unseen. " if kind == "trigger" else ""
        yield (
            f"Found {found} in this book; expected it as `portiondrift init` makes it. {guard}"
            "Bring back a copy with `portiondrift restore`."
        )


def constraints(con: Connection) -> Iterator[str]:
    """Yield a sentence for every rule of a table that its rows do not keep."""
    for table, text, broken in _rules():
        many = (con.execute(broken).fetchone() or (0,))[0]
        if many:
            yield (
                f"Found {many} rows of {table} against its rule {text}; expected none. "
                "Bring back a copy with `portiondrift restore`."
            )


@cache
def _expected() -> dict[tuple[str, str], str | None]:
    with duckdb.connect(":memory:") as new:
        migrate.migrate(new, refresh_prices)
        return {(kind, name): sql for kind, name, sql in new.execute(_OBJECTS).fetchall()}


@cache
def _rules() -> list[tuple[str, str, str]]:
    """Return (table, rule, statement that counts the rows against it), as this version has them."""
    with duckdb.connect(":memory:") as new:
        migrate.migrate(new, refresh_prices)
        found = new.execute(
            """SELECT table_name, constraint_type, constraint_text, expression,
                      constraint_column_names
               FROM duckdb_constraints() ORDER BY table_name, constraint_index"""
        ).fetchall()
    rules = []
    for table, kind, text, expression, columns in found:
        named = ", ".join(columns or [])
        if kind == "CHECK":
            broken = f"SELECT count(*) FROM {table} WHERE NOT ({expression})"
        elif kind == "NOT NULL":
            broken = f"SELECT count(*) FROM {table} WHERE {named} IS NULL"
            text = f"NOT NULL({named})"
        else:  # PRIMARY KEY, UNIQUE
            broken = f"SELECT count(*) - count(DISTINCT ({named})) FROM {table}"
        rules.append((table, text, broken))
    return rules
