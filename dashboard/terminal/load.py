"""The command that loads files, and what `index load` shares with it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

import typer

from dashboard.terminal.options import DryRun, Files, Json, Replace, SkipBad, Unusual
from dashboard.terminal.output import the_book
from dashboard.terminal.reports import print_reports
from pricing.errors import PortionDriftError


def load_files(
    kind: str, files: list[Path], dry_run: bool, skip_bad: bool, replace: bool, unusual: bool,
    json: bool, series: Sequence[str] = (), title: str | None = None,
) -> None:  # fmt: skip
    from ingest.load import load_file
    from pricing.clock import today

    book = the_book()
    day = today()
    reports = []
    stopped: PortionDriftError | None = None
    for file in files:
        try:
            report = load_file(
                book, kind, file, today=day, dry_run=dry_run, skip_bad=skip_bad,
                replace=replace, accept_unusual=unusual, series=series, title=title,
            )  # fmt: skip
        except PortionDriftError as error:
            if not reports:
                raise
            stopped = error  # what was stored before it must still be told
            break
        reports.append(report)
    print_reports(reports, json, dry_run=dry_run, stopped=stopped)


def load(
    kind: Annotated[
        str,
        typer.Argument(help="ingredients, measures, prices, dishes, claims, swaps or index."),
    ],
    files: Files,
    dry_run: DryRun = False,
    skip_bad: SkipBad = False,
    replace: Replace = False,
    accept_unusual: Unusual = False,
    json: Json = False,
) -> None:
    """Load CSV files: all or nothing per file, every problem listed."""
    load_files(kind, files, dry_run, skip_bad, replace, accept_unusual, json)
