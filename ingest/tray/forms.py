"""Tells which of the forms that kitchens have a file comes in, and takes it."""

from __future__ import annotations

from ingest.kinds.checked import Options
from ingest.one_file import Incoming, take
from ingest.recipe_files.read import read_recipes
from ingest.report import FileReport
from ingest.tables.recognise import workbook_or_text
from ingest.text.any_encoding import read_any_text
from ingest.till_text.read import is_till_text
from ingest.tray.recipes import take_recipes
from ingest.tray.table import take_table
from ingest.tray.till import take_till
from pricing.book.connect import Book
from pricing.errors import Problem


def take_form(
    book: Book, kind: str, file: Incoming, options: Options, *, dry_run: bool, skip_bad: bool
) -> FileReport:
    """Take a file that is not in our own columns, in whatever form it has."""
    how = {"dry_run": dry_run, "skip_bad": skip_bad}
    if kind == "dishes" and not _is_workbook(file.data):
        read = read_recipes(file.data, file.name)
        if read.form is not None or not _is_table(file.data):
            return take_recipes(book, file, read, options, **how)
    if kind == "prices" and not _is_workbook(file.data) and _is_till(file.data):
        return take_till(book, file, options, **how)
    report = take_table(book, kind, file, options, **how)
    if kind == "index" and report.problems and not _read_any_row(report):
        return take(book, kind, file, options, **how)  # says how a file of an office is loaded
    return report


def _read_any_row(report: FileReport) -> bool:
    return any(problem.line is not None for problem in report.problems)


def _is_till(data: bytes) -> bool:
    text = read_any_text(data, "a till's text")
    return not isinstance(text, Problem) and is_till_text(text)


def _is_workbook(data: bytes) -> bool:
    return workbook_or_text(data) == "workbook"


def _is_table(data: bytes) -> bool:
    """Tell whether the first lines of a text have marks between cells."""
    head = data[:4096].splitlines()[:5]
    return any(sum(mark in line for line in head) >= 2 for mark in (b",", b";", b"\t", b"|"))
