"""The command that loads official series from files."""

from __future__ import annotations

from typing import Annotated

import typer

from dashboard.terminal.load import load_each
from dashboard.terminal.options import DryRun, Files, Json, Replace, SkipBad


def index_load(
    files: Files,
    dry_run: DryRun = False,
    skip_bad: SkipBad = False,
    replace: Replace = False,
    series: Annotated[
        list[str] | None, typer.Option("--series", help="Only these series, items or countries.")
    ] = None,
    title: Annotated[
        str | None, typer.Option("--title", help="Of a file of dates and values alone.")
    ] = None,
    json: Json = False,
) -> None:
    """Load official series: files of statistics offices, or CSV of the kind `index`."""
    from ingest.load import load_file

    load_each(
        files,
        lambda book, file, day: load_file(
            book, "index", file, today=day, dry_run=dry_run, skip_bad=skip_bad, replace=replace,
            series=series or (), title=title,
        ),
        dry_run=dry_run,
        json=json,
    )  # fmt: skip
