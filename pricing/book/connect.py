"""The one door to a book's file: open it, do one thing, close it."""

from __future__ import annotations

import os
import random
import re
import threading
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

import duckdb

from pricing.book import migrate
from pricing.book.derive import refresh_prices
from pricing.book.gate import Gate
from pricing.errors import BookUnreadable, InputRefused, PortionDriftError

Connection = duckdb.DuckDBPyConnection  # so that nobody outside this package imports duckdb

# DuckDB lets one process write or many read, and even a reader shuts a writer out. So no handle is
# kept beyond one question, or one look: a gate for this process, and patience (with back-off)
# towards the others.
GATE = Gate()
_CONFIG: dict[str, str | bool | int | float | list[str]] = {
    "autoinstall_known_extensions": False,
    "autoload_known_extensions": False,
    "max_temp_directory_size": "4GB",  # a question must never fill a kitchen's disk
}
WAIT_SECONDS = 8.0


@dataclass(frozen=True, kw_only=True)
class Book:
    """A price book on disk: a path, not an open handle."""

    path: Path
    wait_seconds: float = WAIT_SECONDS  # how long to wait for another process to finish


def open_book(path: str | os.PathLike[str], *, wait_seconds: float | None = None) -> Book:
    """Return the book at `path` after looking that it can be read.

    Raises BookUnreadable when the file is missing, not a book, damaged, locked or too new.
    """
    limit = _wait_limit() if wait_seconds is None else wait_seconds
    book = Book(path=Path(path), wait_seconds=limit)
    with reading(book):
        return book


def _wait_limit() -> float:
    stated = os.environ.get("PORTIONDRIFT_WAIT_SECONDS", "")
    try:
        return min(max(float(stated), 0.0), 600.0) if stated else WAIT_SECONDS
    except ValueError:
        raise InputRefused(
            f"Found PORTIONDRIFT_WAIT_SECONDS={stated!r}; expected seconds such as 8. Correct the "
            "variable or unset it."
        ) from None


class _Look(threading.local):
    """What this thread keeps open while it looks: at most one book."""

    looking = False
    path: Path | None = None  # of the book that is open
    con: duckdb.DuckDBPyConnection
    doors: ExitStack

    def close(self) -> None:
        if self.path is not None:
            self.path = None
            self.doors.close()


_LOOK = _Look()


@contextmanager
def looking() -> Iterator[None]:
    """Open a book once for all that this thread asks of it until the block ends.

    It is opened by the first question, and nobody can write to it from then on: all answers are of
    one state. A write of this thread lets go of it first, and the next question opens it again.
    A look inside a look is part of it.
    """
    if _LOOK.looking:
        yield
        return
    _LOOK.looking = True
    try:
        yield
    finally:
        _LOOK.looking = False
        _LOOK.close()


@contextmanager
def reading(book: Book) -> Iterator[duckdb.DuckDBPyConnection]:
    """Yield a read-only connection; all its statements see one state. Never migrates."""
    if not _LOOK.looking or _LOOK.path not in (None, book.path):
        with _opened(book) as con:
            yield con
        return
    if _LOOK.path is None:
        with ExitStack() as doors:
            _LOOK.con = doors.enter_context(_opened(book))
            _LOOK.doors, _LOOK.path = doors.pop_all(), book.path
    with _as_sentences(book):
        # one of its own for each question, so that one inside another takes no row from it
        con = _LOOK.con.cursor()
        try:
            yield con
        finally:
            con.close()


@contextmanager
def _opened(book: Book) -> Iterator[duckdb.DuckDBPyConnection]:
    if not book.path.exists():
        raise BookUnreadable(
            f"Found no price book at {book.path}; expected a file made by `portiondrift init`. "
            "Make one with `portiondrift init --currency USD`, or name another with --book."
        )
    with GATE.shared(), connected(book, read_only=True) as con:
        have = migrate.refuse_foreign(con, str(book.path))
        if migrate.behind(have):
            raise BookUnreadable(
                f"Found a price book of an older structure at {book.path}; reading never changes a "
                "book. Run `portiondrift check --upgrade` once to bring it up to date."
            )
        yield con


@contextmanager
def writing(book: Book) -> Iterator[duckdb.DuckDBPyConnection]:
    """Yield a connection inside one transaction: all of it is stored, or nothing.

    Raises BookUnreadable also when the disk is full or the folder cannot be written.
    """
    if not book.path.exists():
        with reading(book):  # for its sentence
            return
    with alone(), connected(book, read_only=False) as con:
        migrate.refuse_foreign(con, str(book.path))
        migrate.migrate(con, refresh_prices)
        con.execute("BEGIN")
        try:
            yield con
            con.execute("COMMIT")
        except BaseException:
            _roll_back(con)
            raise


@contextmanager
def alone() -> Iterator[None]:
    """Let go of what this thread looks at, and keep all others of this process out."""
    _LOOK.close()
    with GATE.alone():
        yield


def create(path: str | os.PathLike[str]) -> Book:
    """Make a new book's file with its tables and return it. Raises BookUnreadable if one exists."""
    target = Path(path)
    if target.exists():
        raise BookUnreadable(
            f"Found a file at {target} already; expected none, so that nothing is overwritten. "
            "Choose another name with --book, or move that file away."
        )
    book = Book(path=target)
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise BookUnreadable(_cannot_write(target, error.strerror or str(error))) from error
    with alone():
        try:
            with connected(book, read_only=False) as con:
                migrate.migrate(con, refresh_prices)
        except BaseException:
            for leftover in (target, target.with_name(target.name + ".wal")):
                leftover.unlink(missing_ok=True)
            raise
    return book


@contextmanager
def connected(book: Book, *, read_only: bool) -> Iterator[duckdb.DuckDBPyConnection]:
    con = _connect_patiently(book, read_only=read_only)
    try:
        with _as_sentences(book):
            yield con
    finally:
        con.close()


@contextmanager
def _as_sentences(book: Book) -> Iterator[None]:
    try:
        yield
    except duckdb.Error as error:
        raise _as_sentence(book, error) from error


def _connect_patiently(book: Book, *, read_only: bool) -> duckdb.DuckDBPyConnection:
    deadline = time.monotonic() + book.wait_seconds
    pause = 0.01
    while True:
        try:
            # an absolute path: DuckDB gives "md:…" and "http:…" meanings of their own
            path = str(book.path.absolute())
            return duckdb.connect(path, read_only=read_only, config=_CONFIG)
        except duckdb.Error as error:
            if not is_lock(error):
                raise _as_sentence(book, error) from error
            if time.monotonic() + pause > deadline:
                raise BookUnreadable(
                    f"Found the price book {book.path} in use by {_holder(error)}; expected it "
                    f"to be free within {book.wait_seconds:g} seconds. Close that program, or wait "
                    "until it has finished, and try again."
                ) from error
        time.sleep(pause * random.uniform(0.5, 1.0))
        pause = min(pause * 1.6, 0.4)


def is_lock(error: duckdb.Error) -> bool:
    text = str(error)
    return "lock on file" in text or "different configuration" in text


def _holder(error: duckdb.Error) -> str:
    found = re.search(r"held in (\S+) \(PID (\d+)\)", str(error))
    return f"another process ({found[1]}, number {found[2]})" if found else "another process"


def _as_sentence(book: Book, error: duckdb.Error) -> PortionDriftError | duckdb.Error:
    """Turn what the disk or the file did into a sentence; a bug in a statement stays a bug."""
    text = str(error)
    low = text.lower()
    if "in-memory database in read-only" in low:  # a .csv or .json, known by its ending
        text, low = "it is not a DuckDB file", "not a valid duckdb database"
    if "no space left" in low or "disk full" in low or "file too large" in low:
        return BookUnreadable(
            f"Found no room left on the disk while writing {book.path}; nothing of this step was "
            "stored. Free some space and do it again."
        )
    if "permission denied" in low or "read-only" in low:
        return BookUnreadable(_cannot_write(book.path, "permission denied"))
    # a block with a wrong checksum comes as the bare base class
    damaged = type(error) is duckdb.Error or "not a valid duckdb database" in low
    if damaged or isinstance(
        error, (duckdb.SerializationException, duckdb.FatalException, duckdb.InternalException)
    ):
        return BookUnreadable(
            f"Found a file at {book.path} that cannot be read as a price book "
            f"({_first_line(text)}); expected one made by `portiondrift init`. Name another file "
            "with --book, or bring back a copy with `portiondrift restore`."
        )
    if isinstance(error, duckdb.IOException):
        return BookUnreadable(
            f"Could not read or write the price book {book.path}: {_first_line(text)}. "
            "Check the disk and the folder, then try again."
        )
    return error


def _first_line(text: str) -> str:
    return text.strip().splitlines()[0].rstrip(".")


def _cannot_write(path: Path, why: str) -> str:
    return (
        f"Cannot write the price book {path}: {why}. "
        "Choose a folder that you may write to, with --book, or change its permissions."
    )


def _roll_back(con: duckdb.DuckDBPyConnection) -> None:
    with suppress(duckdb.Error):  # the transaction may be gone already, after a failed commit
        con.execute("ROLLBACK")
