"""The command that looks through the book for damage."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, book_path, stop
from dashboard.words.figures import counted

if TYPE_CHECKING:
    from pricing.book.keeping.check import CheckReport


def check(
    upgrade: Annotated[
        bool, typer.Option("--upgrade", help="Bring an older book's structure up to date first.")
    ] = False,
    json: Json = False,
) -> None:
    """Look through every row of the book for damage."""
    from pricing.book.connect import Book
    from pricing.book.keeping.check import check as check_book

    found = check_book(Book(path=book_path()), upgrade=upgrade)
    whole = {"problems": list(found.problems), "counts": found.counts}
    answer(whole, lambda: check_text(found), as_json=json)
    if found.problems:
        stop(1)


def check_text(found: CheckReport) -> str:
    """Return what is damaged, or that nothing is."""
    rows = sum(found.counts.values())
    if not found.problems:
        return f"Read {counted(rows, 'row')} of {counted(len(found.counts), 'table')}: all is well."
    return "\n".join([f"{counted(len(found.problems), 'problem')} found:", *found.problems])
