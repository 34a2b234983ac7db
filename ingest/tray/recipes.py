"""Takes recipes of web pages and texts into the book as dish versions."""

from __future__ import annotations

import hashlib
from dataclasses import replace as changed

from ingest.kinds.checked import Options
from ingest.kinds.decided import DecidedWords
from ingest.kinds.kitchen import Kitchen
from ingest.one_file import Incoming, take
from ingest.recipe_files.recipe import RecipesRead
from ingest.report import FileReport
from ingest.text.csv_text import RawRow, Sheet
from ingest.text.read_file import ReadFile, read_columns
from ingest.tray.recipe_rows import COLUMNS, RecipeReader, said_of
from pricing.book import tray
from pricing.book.connect import Book, reading


def take_recipes(
    book: Book,
    file: Incoming,
    read: RecipesRead,
    options: Options,
    *,
    dry_run: bool,
    skip_bad: bool,
) -> FileReport:
    """Store each recipe as a version of a dish; lines that nobody has decided on wait in it.

    Answers that count (`options.told`): dish, version, from (its first day), portions.
    """
    if read.problems:
        return changed(FileReport.refused(file.shown, read.problems), form=read.form)
    with reading(book) as con:
        kitchen = Kitchen(con)
        before = tray.versions_of_file(con, hashlib.sha256(file.data).hexdigest())
        found = RecipeReader(
            kitchen,
            DecidedWords(con, kitchen),
            told=options.told,
            before=before,
            today=options.today,
        ).read(read.recipes, numbered=read.form == "recipe-text")
    if found.problems:
        return changed(
            FileReport.refused(file.shown, found.problems, found.remarks), form=read.form
        )
    rows = tuple(RawRow(line=line, raw=raw, cells=tuple(cells)) for line, raw, cells in found.rows)
    sheet = Sheet(header=RawRow(line=1, raw=",".join(COLUMNS), cells=COLUMNS), rows=rows)
    own = read_columns("dishes", sheet)
    if not isinstance(own, ReadFile):  # our own heading is one that can be read
        raise TypeError(own)
    report = take(
        book, "dishes", changed(file, read=own), options, dry_run=dry_run, skip_bad=skip_bad
    )
    return changed(
        report,
        form=read.form,
        waiting=found.waiting,
        remarks=(*said_of(found), *report.remarks),
    )
