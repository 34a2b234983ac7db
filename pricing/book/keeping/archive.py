"""Keeps a book from being lost: take a copy of its file (backup), bring one back (restore)."""

from __future__ import annotations

import itertools
import os
from contextlib import ExitStack
from pathlib import Path

import duckdb

from pricing.book import connect
from pricing.book.connect import Book
from pricing.book.keeping.file_copy import BESIDE, beside, checked_copy, link, wording_disk_errors
from pricing.clock import now
from pricing.errors import BookUnreadable


def backup(book: Book, target: str | os.PathLike[str]) -> Path:
    """Copy the book, as it stands at this moment, to a new file and return that file.

    The copy gets its name only after it was opened and compared with the book. Others may go on
    reading meanwhile; a writer waits. A book of an older structure is copied as it is.
    Raises BookUnreadable when the book cannot be read, the target exists or cannot be written.
    """
    path = Path(target)
    if os.path.lexists(path):
        raise _exists(path)
    with checked_copy(book, path) as part:
        _name_new(part, path)
    return path


def restore(
    book_path: str | os.PathLike[str],
    source: str | os.PathLike[str],
    *,
    replace: bool = False,
    wait_seconds: float = connect.WAIT_SECONDS,
) -> Path | None:
    """Make the book at `book_path` a copy of `source`; return where the former book went, if any.

    With `replace` the former book is kept beside it as NAME.before-restore-YYYYMMDD-HHMMSS.duckdb
    (UTC). It stays in its place until the last step, which is one rename. A source of an older
    structure is taken as it is. Raises BookUnreadable when the source is not a book or is from a
    newer version, when a book is there and `replace` is not given, or when either is in use for
    longer than `wait_seconds`.
    """
    path, origin = Path(os.path.realpath(book_path)), Path(source)
    if path.exists() and origin.exists() and path.samefile(origin):
        raise BookUnreadable(
            f"Found the book itself, {path}, as the copy to bring back; expected another file. "
            "Name a file made by `portiondrift backup`."
        )
    if path.is_dir():
        raise BookUnreadable(
            f"Found a folder at {path}; expected the name of a book's file. Correct --book."
        )
    if path.exists() and not replace:
        raise BookUnreadable(
            f"Found a book at {path} already; expected none, so that nothing is overwritten. "
            "Say --replace to have it set aside first, or name another with --book."
        )
    copied = checked_copy(Book(path=origin, wait_seconds=wait_seconds), path)
    with copied as part, wording_disk_errors(path), ExitStack() as doors:
        doors.enter_context(connect.alone())
        if path.exists():
            _keep_others_out(Book(path=path, wait_seconds=wait_seconds), doors)
            return _change_places(part, path)
        for suffix in BESIDE:  # left of a book that is gone: the new one must not meet it
            if beside(path, suffix).exists():
                beside(path, suffix).rename(beside(_former_name(path), suffix))
        _name_new(part, path)
        return None


def _keep_others_out(book: Book, doors: ExitStack) -> None:
    """Hold the former book for writing, so that no one stores a row in a file that is leaving."""
    try:
        con = doors.enter_context(connect.connected(book, read_only=False))
        con.execute("CHECKPOINT")
    except (BookUnreadable, duckdb.Error) as error:
        if isinstance(error.__cause__, duckdb.Error) and connect.is_lock(error.__cause__):
            raise  # someone is using it
        # Otherwise it is damaged, which may be why it is replaced: it is set aside as it is.
    if os.name == "nt":
        doors.close()  # Windows does not rename a file that is open


def _change_places(part: Path, path: Path) -> Path:
    """Set aside what is at `path`, put `part` there in one step; return where the former went."""
    former = _former_name(path)
    link(path, former)
    moved = [suffix for suffix in BESIDE if beside(path, suffix).exists()]
    try:
        for suffix in moved:
            beside(path, suffix).rename(beside(former, suffix))
        os.replace(part, path)
    except OSError:
        if path.exists():
            former.unlink()
        else:  # a disk without links
            former.rename(path)
        for suffix in moved:
            if beside(former, suffix).exists():
                beside(former, suffix).rename(beside(path, suffix))
        raise
    return former


def _former_name(path: Path) -> Path:
    """Return a free name beside the book that says when it was set aside."""
    mark = f"{path.stem}.before-restore-{now():%Y%m%d-%H%M%S}"
    names = (path.with_name(f"{mark}{f'-{n}' if n > 1 else ''}.duckdb") for n in itertools.count(1))
    return next(name for name in names if not os.path.lexists(name))


def _name_new(part: Path, path: Path) -> None:
    """Give a finished copy its name, which must be free also at this very moment."""
    with wording_disk_errors(path):
        try:
            link(part, path)
        except FileExistsError:
            raise _exists(path) from None


def _exists(path: Path) -> BookUnreadable:
    return BookUnreadable(
        f"Found a file at {path} already; expected none, so that nothing is overwritten. "
        "Choose another name, or move that file away."
    )
