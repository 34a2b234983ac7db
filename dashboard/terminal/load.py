"""The command that loads files, and what `index load` shares with it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer
from typer.core import TyperCommand

from dashboard.terminal.options import Answers, DryRun, Files, Json, Replace, SkipBad, Unusual
from dashboard.terminal.output import stop, the_book
from dashboard.terminal.reports import print_reports
from pricing.errors import InputRefused, PortionDriftError

if TYPE_CHECKING:
    from ingest.report import FileReport
    from pricing.book.connect import Book


def load_each(
    files: list[Path], load_one: Callable[[Book, Path, date], FileReport], *, dry_run: bool,
    json: bool,
) -> None:  # fmt: skip
    """Load files one after the other, and print what came of each.

    What keeps one from being loaded ends it: what was stored before it is told all the same.
    """
    from pricing.clock import today

    book = the_book()
    day = today()
    reports: list[FileReport] = []
    for file in files:
        try:
            reports.append(load_one(book, file, day))
        except PortionDriftError as error:
            if not reports:
                raise
            print_reports(
                reports, json, dry_run=dry_run, more={"error": str(error)},
                after=f"\nStopped there: {error}",
            )  # fmt: skip
            stop(1)
    print_reports(reports, json, dry_run=dry_run)


class LoadCommand(TyperCommand):
    """A command whose help ends with the columns of every kind of file."""

    def get_help(self, ctx: Any) -> str:
        from ingest.text.columns_help import columns_help  # only for who asks
        from ingest.text.limits import limits_help

        # with colours the help is printed there and then, and nothing of it is left to return
        return "\n\n".join(filter(None, (super().get_help(ctx), limits_help(), columns_help())))


def read_answers(answers: Sequence[str]) -> dict[str, str]:
    """Return answers by name. Raises InputRefused for one that is not NAME=VALUE."""
    told = {}
    for each in answers:
        name, mark, value = each.partition("=")
        if not mark or not name.strip() or not value.strip():
            raise InputRefused(
                f"Found the answer '{each}'; expected NAME=VALUE, such as portions=4. Write it so."
            )
        told[" ".join(name.split())] = value.strip()
    return told


def load(
    kind: Annotated[
        str,
        typer.Argument(
            help="ingredients, measures, prices, dishes, swaps, printed, index or decisions."
        ),
    ],
    files: Files,
    dry_run: DryRun = False,
    skip_bad: SkipBad = False,
    replace: Replace = False,
    accept_unusual: Unusual = False,
    answers: Answers = None,
    json: Json = False,
) -> None:
    """Load files as they come: all or nothing per file, every problem listed.

    Tables, workbooks, e-invoices and receipts as prices; recipe pages and texts as dishes.
    """
    from ingest.load import load_file

    told = read_answers(answers or [])

    load_each(
        files,
        lambda book, file, day: load_file(
            book, kind, file, today=day, dry_run=dry_run, skip_bad=skip_bad, replace=replace,
            accept_unusual=accept_unusual, told=told,
        ),
        dry_run=dry_run,
        json=json,
    )  # fmt: skip
