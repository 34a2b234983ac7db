"""The public door for data: files, uploads, prices by hand, and taking a load back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace as changed
from datetime import date
from pathlib import Path, PurePath

from ingest.by_hand import PricePreview, add_ingredient, add_price, add_swap, preview_price
from ingest.dish_by_hand import add_dish
from ingest.invoices.recognise import is_document
from ingest.kinds.checked import Options
from ingest.offices.reading.source import Source
from ingest.offices.taking import office_file
from ingest.offices.taking.office_file import is_office_file, load_office_file
from ingest.one_file import Incoming, table_of, take
from ingest.report import FileReport, said_as_stored
from ingest.text.columns import KINDS
from ingest.text.limits import LARGEST_FILE, too_large
from ingest.text.own_form import is_own
from pricing.book.connect import Book, writing
from pricing.book.undo import retract_batch
from pricing.book.undo_row import RowTakenBack, retract_row
from pricing.errors import InputRefused

OWN = "own"  # the form of a file with our own columns

__all__ = [
    "KINDS",
    "FileReport",
    "PricePreview",
    "add_dish",
    "add_ingredient",
    "add_price",
    "add_swap",
    "load_bytes",
    "load_file",
    "preview_price",
    "says_which",
    "undo",
]


def load_file(
    book: Book,
    kind: str,
    path: Path,
    *,
    today: date, dry_run: bool = False, skip_bad: bool = False, replace: bool = False,
    accept_unusual: bool = False, series: Sequence[str] = (), title: str | None = None,
    told: Mapping[str, str] | None = None,
) -> FileReport:  # fmt: skip
    """Load one file of a kind of `KINDS`: all of its rows, or none and every problem.

    A file of prices may also be an e-invoice, as XML or inside a PDF, told by its content.
    A file of the kind `index` may also be one that a statistics office publishes; `series` then
    names the series wanted of it, and `title` the one of a file that does not say.
    `told` answers what a file does not say, such as {"portions": "4"} of a recipe.
    `skip_bad` stores the rows that are fine and writes the others beside the file. `replace` lets
    facts that differ from the book's take their place. `accept_unusual` takes prices far from what
    the book expects. Raises InputRefused for an unknown kind or a file that cannot be read, and
    BookUnreadable.
    """
    path = Path(path)
    options = Options(today=today, replace=replace, accept_unusual=accept_unusual, told=told or {})
    if table_of(kind) == "index" and path.is_file():
        source = Source(name=path.name, path=path)
        if is_office_file(source):
            return load_office_file(
                book, source, options, wanted=series, title=title, dry_run=dry_run
            )
    data = _bytes_of(path)
    if data is None:
        return FileReport.refused(str(path), [too_large(path.stat().st_size)])
    file = Incoming(shown=str(path), name=path.name, data=data, beside=path)
    return _take(book, kind, file, options, dry_run=dry_run, skip_bad=skip_bad)


def load_bytes(
    book: Book,
    kind: str,
    name: str,
    data: bytes,
    *,
    today: date, dry_run: bool = False, skip_bad: bool = False, replace: bool = False,
    accept_unusual: bool = False, series: Sequence[str] = (), title: str | None = None,
    told: Mapping[str, str] | None = None,
) -> FileReport:  # fmt: skip
    """Load an uploaded file, as `load_file` does; refused rows are in `refused_text` only."""
    options = Options(today=today, replace=replace, accept_unusual=accept_unusual, told=told or {})
    source = Source(name=name, data=data)
    if table_of(kind) == "index" and is_office_file(source):
        return load_office_file(book, source, options, wanted=series, title=title, dry_run=dry_run)
    file = Incoming(shown=name, name=PurePath(name).name or "upload", data=data)
    return _take(book, kind, file, options, dry_run=dry_run, skip_bad=skip_bad)


def says_which(name: str, data: bytes) -> bool:
    """Tell whether an uploaded index file says which series it holds; if not, it must be named."""
    return office_file.says_which(Source(name=name, data=data))


def undo(book: Book, load: int) -> int:
    """Retract what a load added and return how many data rows that were.

    Raises InputRefused when there is no such load, when it was undone already, or when rows in
    force still need it.
    """
    with writing(book) as con:
        return retract_batch(con, load)


def undo_row(book: Book, row: int, *, reason: str = "") -> RowTakenBack:
    """Retract one price, swap, printed figure or decision, and what came by it alone.

    Raises InputRefused for any other row, and one that counts no more.
    """
    with writing(book) as con:
        return retract_row(con, row, reason=reason)


def _take(
    book: Book, kind: str, file: Incoming, options: Options, *, dry_run: bool, skip_bad: bool
) -> FileReport:
    """Take a file, and say of things done only what holds."""
    report = _take_form(book, kind, file, options, dry_run=dry_run, skip_bad=skip_bad)
    taken = report.load is not None or (dry_run and skip_bad and bool(report.refused_text))
    said = said_as_stored(
        report.remarks, refused=bool(report.problems) and not taken, dry_run=dry_run
    )
    return changed(report, remarks=said)


def _take_form(
    book: Book, kind: str, file: Incoming, options: Options, *, dry_run: bool, skip_bad: bool
) -> FileReport:
    """Take a file in the form that its content has; readers load for who has such a file."""
    kind = table_of(kind)
    if kind == "prices" and is_document(file.data):
        from ingest.invoices.taking import take_invoice

        return take_invoice(book, file, options, dry_run=dry_run, skip_bad=skip_bad)
    if not is_own(kind, file.data):
        from ingest.tray.forms import take_form

        return take_form(book, kind, file, options, dry_run=dry_run, skip_bad=skip_bad)
    report = take(book, kind, file, options, dry_run=dry_run, skip_bad=skip_bad)
    return changed(report, form=OWN)


def _bytes_of(path: Path) -> bytes | None:
    """Return the file's bytes; None when it is too large. Raises InputRefused."""
    try:
        if path.is_file() and path.stat().st_size > LARGEST_FILE:
            return None
        return path.read_bytes()
    except FileNotFoundError:
        why, remedy = "no such file", "Check the name and the folder."
    except IsADirectoryError:
        why, remedy = "it is a folder", "Name the files in it."
    except OSError as error:
        why, remedy = error.strerror or str(error), "Check its permissions."
    raise InputRefused(f"Cannot read {path}: {why}; expected a file. {remedy}")
