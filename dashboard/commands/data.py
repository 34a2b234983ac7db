"""Commands that get data in, or take it back."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from dashboard.commands.app import app
from dashboard.commands.options import DryRun, Files, Json, Replace, SkipBad, Unusual
from dashboard.terminal import answer, remark, stop, the_book
from dashboard.words import counted
from pricing.errors import PortionDriftError

if TYPE_CHECKING:
    from ingest.report import FileReport


def print_reports(
    reports: list[FileReport], as_json: bool, *, dry_run: bool, said: str = "", after: str = "",
    more: dict[str, Any] | None = None, stopped: PortionDriftError | None = None,
) -> None:  # fmt: skip
    """Print what came of loads, remarks first, and stop with 1 when rows were refused.

    `stopped` is what kept the next file from being loaded.
    """
    from dashboard.load_words import report_text

    for report in reports:
        for sentence in report.remarks:
            remark(f"{report.file}: {sentence}")
    whole = {"files": [report.as_json() for report in reports], **(more or {})}
    if stopped is not None:
        whole["error"] = str(stopped)
        after += f"\nStopped there: {stopped}"
    answer(
        whole,
        lambda: said + "\n".join(report_text(each, dry_run=dry_run) for each in reports) + after,
        as_json=as_json,
    )
    if stopped is not None or any(report.problems for report in reports):
        stop(1)


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


@app.command()
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


@app.command()
def undo(
    batch: Annotated[int, typer.Argument(help="The number that load printed; see info.")],
    json: Json = False,
) -> None:
    """Retract what a load added."""
    from ingest.load import undo as take_back

    count = take_back(the_book(), batch)
    answer(
        {"batch": batch, "retracted": count},
        lambda: f"Retracted batch {batch}: {counted(count, 'row')} that counted, no more.",
        as_json=json,
    )


@app.command()
def price(
    ingredient: str,
    price: Annotated[str, typer.Argument(help="For the whole pack.")],
    pack: Annotated[str, typer.Option("--pack", help='Such as "500 g" or "6 x 330 ml".')],
    on: Annotated[str, typer.Option("--on", help="Date seen; today unless stated.")] = "",
    currency: Annotated[str, typer.Option("--currency", help="The book's unless stated.")] = "",
    supplier: Annotated[str, typer.Option("--supplier")] = "",
    kind: Annotated[
        str, typer.Option("--kind", help="shelf, offer, receipt, invoice, quote.")
    ] = "",
    product: Annotated[str, typer.Option("--product")] = "",
    tax_pct: Annotated[str, typer.Option("--tax-pct", help="Added to reach what is paid.")] = "",
    region: Annotated[str, typer.Option("--region")] = "",
    note: Annotated[str, typer.Option("--note")] = "",
    dry_run: DryRun = False,
    accept_unusual: Unusual = False,
    json: Json = False,
) -> None:
    """Log one price by hand."""
    from ingest.load import add_price, preview_price
    from pricing.contents.settings import book_settings
    from pricing.clock import today

    book = the_book()
    day = today()
    fields = {
        "ingredient": ingredient, "date": on or day.isoformat(), "price": price, "pack": pack,
        "currency": currency or book_settings(book).currency, "supplier": supplier, "kind": kind,
        "product": product, "tax_pct": tax_pct, "region": region, "note": note,
    }  # fmt: skip
    understood = preview_price(book, fields, today=day)
    said = "" if isinstance(understood, tuple) else "\n".join([*understood.sentences, ""])
    report = add_price(book, fields, today=day, dry_run=dry_run, accept_unusual=accept_unusual)
    print_reports([report], json, dry_run=dry_run, said=said)
