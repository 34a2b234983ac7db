"""The command that loads official series from files."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from dashboard.terminal.load import load_each
from dashboard.terminal.options import DryRun, Json, Replace, SkipBad


def index_load(
    files: Annotated[list[Path], typer.Argument(help="Files of offices, or CSV of kind `index`.")],
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
    """Load official series, from files as statistics offices publish them.

    Read are, plain or in a zip or gz file: ONS (a series, or the whole table MM23), BLS (an answer
    of its API, or a flat file), Statistics Canada (the table 18-10-0004), SDMX-CSV and JSON-stat
    (Eurostat, CSO Ireland, ABS and others), and two columns of dates and values (say a --title).
    CSV of the kind `index` is read, too: `portiondrift load --help` lists its columns.
    """
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
