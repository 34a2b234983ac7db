"""Tells which of the forms that kitchens have a file of prices or dishes comes in, and takes it."""

from __future__ import annotations

from ingest.kinds.checked import Options
from ingest.one_file import Incoming
from ingest.recipe_files.read import read_recipes
from ingest.report import FileReport
from ingest.text.any_encoding import read_any_text
from ingest.till_text.read import is_till_text
from ingest.tray.recipes import take_recipes
from ingest.tray.till import take_till
from pricing.book.connect import Book
from pricing.errors import Problem


def take_form(
    book: Book, kind: str, file: Incoming, options: Options, *, dry_run: bool, skip_bad: bool
) -> FileReport | None:
    """Take a file that is not in our own columns; None where it is in no form that is known."""
    if kind == "dishes":
        read = read_recipes(file.data, file.name)
        if read.form is None:
            return None
        return take_recipes(book, file, read, options, dry_run=dry_run, skip_bad=skip_bad)
    text = read_any_text(file.data, "a till's text")
    if not isinstance(text, Problem) and is_till_text(text):
        return take_till(book, file, options, dry_run=dry_run, skip_bad=skip_bad)
    return None
