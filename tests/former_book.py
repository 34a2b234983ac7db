"""Books of a former structure, made of the rows of one of today."""

from __future__ import annotations

from pathlib import Path

import duckdb

from pricing.book import migrate, tables
from pricing.book.connect import Book


def former_book(today: Book, path: Path, step: int) -> Book:
    """Make a book as it stood after a step, holding the rows that today's tables of it hold.

    Loads of a kind that the step does not know are left out; so must be their rows.
    """
    former = Book(path=path)
    with duckdb.connect(str(path)) as con:
        con.execute(
            "CREATE TABLE migration (number INTEGER PRIMARY KEY, name VARCHAR NOT NULL, "
            "sha256 VARCHAR NOT NULL, applied_at TIMESTAMP NOT NULL)"
        )
        for each in migrate.migrations():
            if each.number <= step:
                con.execute(each.sql)
                con.execute(
                    "INSERT INTO migration VALUES (?, ?, ?, '2020-01-01')",
                    [each.number, each.name, each.sha256],
                )
        con.execute(f"ATTACH '{today.path}' AS today (READ_ONLY)")
        there = con.execute(
            "SELECT table_name FROM duckdb_tables() WHERE database_name = current_database()"
        ).fetchall()
        for table in ("ingredient", "dish", "setting", *tables.TABLES):  # not what is derived
            if (table,) in there:
                con.execute(f"INSERT INTO {table} BY NAME FROM today.{table}")
        con.execute(
            "INSERT INTO load_batch FROM today.load_batch "
            "WHERE kind NOT IN ('printed', 'decisions') OR $step >= 7",
            {"step": step},
        )
    return former
