"""The command that copies the book to a file."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, book_path


def backup(
    file: Annotated[Path, typer.Argument(help="A file that is not there yet.")], json: Json = False
) -> None:
    """Copy the book to FILE."""
    from pricing.book.connect import Book
    from pricing.book.keeping.archive import backup as copy_book

    made = copy_book(Book(path=book_path()), file)  # a book of an older structure, too
    answer({"backup": str(made)}, lambda: f"Copied the book to {made}.", as_json=json)
