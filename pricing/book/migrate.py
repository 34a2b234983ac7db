"""Brings a book's tables up to this version: numbered files, forward only, one transaction each."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Collection
from dataclasses import dataclass
from importlib import resources

import duckdb

from pricing.clock import now
from pricing.errors import BookUnreadable


@dataclass(frozen=True, kw_only=True)
class Migration:
    """One numbered step of the book's structure."""

    number: int
    name: str
    sql: str

    @property
    def sha256(self) -> str:
        return hashlib.sha256(self.sql.encode()).hexdigest()


def migrations() -> list[Migration]:
    """Return every step this version knows, in order."""
    steps = []
    for entry in resources.files("pricing.book").joinpath("migrations").iterdir():
        if entry.name.endswith(".sql"):
            number = int(entry.name.split("_", 1)[0])
            steps.append(Migration(number=number, name=entry.name, sql=entry.read_text("utf-8")))
    return sorted(steps, key=lambda step: step.number)


def applied(con: duckdb.DuckDBPyConnection) -> dict[int, str]:
    """Return number → sha256 of the steps the open file has taken; empty when it is no book."""
    try:
        found = con.execute("SELECT number, sha256 FROM migration ORDER BY number")
    except (duckdb.CatalogException, duckdb.BinderException):  # no such table, or columns
        return {}
    return dict(found.fetchall())


def refuse_foreign(con: duckdb.DuckDBPyConnection, path: str) -> dict[int, str]:
    """Return what the open file has `applied`.

    Raises BookUnreadable when it is not a book, or is from a newer version.
    """
    have = applied(con)
    if not have:
        raise BookUnreadable(
            f"Found a DuckDB file at {path} that is not a price book; expected one made by "
            "`portiondrift init`. Name another file with --book."
        )
    newest = max(step.number for step in migrations())
    if max(have) > newest:
        raise BookUnreadable(
            f"Found a price book at structure {max(have)} in {path}; this version of portiondrift "
            f"knows structures up to {newest}. Install a newer portiondrift to open it."
        )
    return have


def behind(have: Collection[int]) -> list[Migration]:
    """Return the steps that are not among those a book has taken."""
    return [step for step in migrations() if step.number not in have]


def migrate(
    con: duckdb.DuckDBPyConnection, derive: Callable[[duckdb.DuckDBPyConnection], None]
) -> list[int]:
    """Take every missing step, its record in the same transaction; return their numbers.

    `derive` fills the derived tables anew, in the transaction of the last step.
    """
    added = []
    steps = behind(applied(con))
    for step in steps:
        con.execute("BEGIN")
        try:
            con.execute(
                "CREATE TABLE IF NOT EXISTS migration (number INTEGER PRIMARY KEY, "
                "name VARCHAR NOT NULL, sha256 VARCHAR NOT NULL, applied_at TIMESTAMP NOT NULL)"
            )
            con.execute(step.sql)
            con.execute(
                "INSERT INTO migration VALUES (?, ?, ?, ?)",
                [step.number, step.name, step.sha256, now()],
            )
            if step is steps[-1]:
                derive(con)
            con.execute("COMMIT")
        except BaseException:
            con.execute("ROLLBACK")
            raise
        added.append(step.number)
    return added
