"""The command that writes the inflation report of the kitchen to a file."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from dashboard.terminal.options import Dishes, Force, From, Json, To
from dashboard.terminal.output import answer, read_date, remark, the_book

if TYPE_CHECKING:
    from pricing.report.records import Report


def report(
    dishes: Dishes = None,
    out: Annotated[Path, typer.Option("--out", help="FILE.html, .md, .xlsx or .pdf.")] = ...,  # type: ignore[assignment]
    start: From = "",
    end: To = "",
    on: Annotated[str, typer.Option("--on", help="Prices of a date; today unless stated.")] = "",
    force: Force = False,
    json: Json = False,
) -> None:
    """Write the inflation report of the kitchen: the index, each dish, corrections, evidence."""
    from dashboard.report.draw import DRAWN, draw_report
    from dashboard.report.file import refuse_file, write_whole

    ending = refuse_file(out, DRAWN, force=force)
    from pricing.report.kitchen import kitchen_report

    found = kitchen_report(
        the_book(), dishes, start=start or None, end=end or None,
        on=read_date(on) if on else None,
    )  # fmt: skip
    sha256 = write_whole(out, draw_report(found, ending))
    for each in found.inflation.remarks:
        remark(each)
    told = report_answer(found, out, sha256)
    answer(told, lambda: f"{out}\nSHA-256 {sha256}", as_json=json)


def report_answer(found: Report, path: Path, sha256: str) -> dict[str, Any]:
    """Return what `report --json` tells: the file, what it was made from, and its headline."""
    index = found.inflation
    return {
        "file": str(path),
        "sha256": sha256,
        "book_sha256": found.book_sha256,
        "on": found.on,
        "from": index.from_month,
        "to": index.to_month,
        "currency": found.currency,
        "dishes": [each.then_and_now.dish for each in found.dishes],
        "change_pct": index.change_pct,
        "corrections": len(found.corrections),
        "prices": len(found.prices),
        "index_values": len(found.index_values),
    }
