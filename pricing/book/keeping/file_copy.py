"""Makes a checked copy of a book's file, byte by byte, under a name that no one looks for yet."""

from __future__ import annotations

import os
import secrets
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import duckdb

from pricing.book import connect, migrate
from pricing.book.connect import Book
from pricing.errors import BookUnreadable

# What DuckDB may keep beside a book that was not closed in an orderly way: without it the newest
# rows would be missing from a copy, and with a stranger's it will not open.
BESIDE = (".wal", ".wal.checkpoint", ".wal.recovery")


@contextmanager
def checked_copy(book: Book, path: Path) -> Iterator[Path]:
    """Yield a copy of the book in the folder of `path`, for the caller to rename; tidy up after.

    COPY FROM DATABASE would leave the append-only triggers behind, so the bytes are copied while a
    read-only handle keeps writers out. The copy is then opened, and its tables, rows, triggers and
    views compared. Makes the folder when there is none. Raises BookUnreadable when the book cannot
    be read, the copy cannot be written or the two differ.
    """
    part = path.with_name(f".{path.name}.part-{secrets.token_hex(4)}")
    try:
        with wording_disk_errors(path):
            path.parent.mkdir(parents=True, exist_ok=True)
            before = _copy(book, part)
            after = _settle(part)
            shutil.copymode(book.path, part)
        if before != after:
            raise BookUnreadable(
                f"The copy of {book.path} does not hold what the book holds; it was thrown away. "
                "Check the disk with its own tools, then try again."
            )
        yield part
    finally:
        for each in (part, *(beside(part, suffix) for suffix in BESIDE)):
            with suppress(OSError):
                each.unlink(missing_ok=True)


def beside(path: Path, suffix: str) -> Path:
    """Return the name of what DuckDB keeps beside the file at `path`."""
    return path.with_name(path.name + suffix)


def link(path: Path, other: Path) -> None:
    """Let the file also be called `other` or, on a disk without links, only that.

    Raises FileExistsError when something is called `other` already.
    """
    try:
        os.link(path, other)
    except FileExistsError:
        raise
    except OSError:
        if os.path.lexists(other):
            raise FileExistsError(str(other)) from None
        path.rename(other)


@contextmanager
def wording_disk_errors(path: Path) -> Iterator[None]:
    """Turn what the disk refuses into a sentence."""
    try:
        yield
    except BookUnreadable:  # is an OSError too, and has its sentence
        raise
    except OSError as error:
        raise BookUnreadable(
            f"Could not write {path}: {error.strerror or error}; nothing of it was kept. "
            "Free some space, or choose a folder that you may write to, and do it again."
        ) from error


def _copy(book: Book, part: Path) -> list[tuple[str, int | str]]:
    """Copy the bytes and return what the book held."""
    with _inspecting(book) as con:
        contents = _contents(con)
        with book.path.open("rb") as read, part.open("xb") as written:
            shutil.copyfileobj(read, written, 1 << 20)
            written.flush()
            os.fsync(written.fileno())
            # The operating system drops a process's lock on a file as soon as that process closes
            # any handle on it; so `read` stays open until what lies beside the book is copied too.
            for suffix in BESIDE:
                if beside(book.path, suffix).exists():
                    shutil.copyfile(beside(book.path, suffix), beside(part, suffix))
    return contents


def _settle(part: Path) -> list[tuple[str, int | str]]:
    """Take what lay beside the book into the one file; return what the copy holds."""
    copy = Book(path=part)
    with connect.alone(), connect.connected(copy, read_only=False) as con:
        con.execute("CHECKPOINT")
    for suffix in BESIDE:
        beside(part, suffix).unlink(missing_ok=True)
    with _inspecting(copy) as con:
        return _contents(con)


@contextmanager
def _inspecting(book: Book) -> Iterator[duckdb.DuckDBPyConnection]:
    """Yield a read-only connection also to a book of an older structure, which a copy may be."""
    if not book.path.is_file():
        raise BookUnreadable(
            f"Found no price book at {book.path}; expected a file made by `portiondrift init` or "
            "`portiondrift backup`. Check the name."
        )
    with connect.alone(), connect.connected(book, read_only=True) as con:
        migrate.refuse_foreign(con, str(book.path))
        yield con


def _contents(con: duckdb.DuckDBPyConnection) -> list[tuple[str, int | str]]:
    """Return what a copy must share with its original: rows of each table, guards, next row id."""
    tables = con.execute(
        "SELECT table_name FROM duckdb_tables() WHERE NOT internal ORDER BY table_name"
    ).fetchall()
    contents: list[tuple[str, int | str]] = [
        (name, con.table(f'"{name}"').count("*").fetchall()[0][0]) for (name,) in tables
    ]
    contents += con.execute(
        """SELECT trigger_name, sql FROM duckdb_triggers()
           UNION ALL SELECT view_name, sql FROM duckdb_views() WHERE NOT internal
           UNION ALL SELECT sequence_name, last_value::VARCHAR FROM duckdb_sequences()
           ORDER BY ALL"""
    ).fetchall()
    return contents
