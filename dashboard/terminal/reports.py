"""Prints what came of loads: what a file added, or every problem of it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from dashboard.terminal.output import answer, remark, stop
from dashboard.words.figures import counted
from dashboard.words.tray import wait_words

if TYPE_CHECKING:
    from ingest.report import FileReport


MOST_SHOWN = 50  # problems listed in a terminal; --json lists all


def report_text(report: FileReport, *, dry_run: bool = False) -> str:
    """Return what one file added (in a dry run: would add), or every problem of it."""
    added = "would be added" if dry_run else "added"
    rows = f"{counted(report.added, 'row')} {added}, {report.already:,} already in the book"
    if report.problems:
        stored = report.load is not None
        outcome = f"{rows}, others refused" if stored else "nothing stored"
        lines = [f"{report.file}: {counted(len(report.problems), 'problem')}; {outcome}."]
        lines += [f"  {problem.sentence()}" for problem in report.problems[:MOST_SHOWN]]
        if len(report.problems) > MOST_SHOWN:
            left = len(report.problems) - MOST_SHOWN
            lines.append(f"  … and {left:,} more; --json lists all of them.")
        if report.refused_file:
            lines.append(f"  The refused rows, with reasons, are in {report.refused_file}.")
    elif report.load is None:
        lines = [f"{report.file}: {rows}; {'a dry run, ' if dry_run else ''}nothing was stored."]
    elif report.waiting and not report.added:
        wait = f"{wait_words(report.waiting)}, see `portiondrift tray`"
        lines = [
            f"{report.file}: {wait}; nothing else to add. Load {report.load}; `undo {report.load}` "
            "takes it back."
        ]
    else:
        lines = [f"{report.file}: {rows}. Load {report.load}; `undo {report.load}` takes it back."]
    return "\n".join(lines)


def print_reports(
    reports: list[FileReport], as_json: bool, *, dry_run: bool, before: str = "", after: str = "",
    more: dict[str, str | list[dict[str, Any]]] | None = None,
) -> None:  # fmt: skip
    """Print what came of loads, remarks first, and stop with 1 when rows were refused.

    `before` and `after` are added to the text, `more` to the JSON.
    """
    for report in reports:
        for sentence in report.remarks:
            remark(f"{report.file}: {sentence}")
    answer(
        {"files": [report.as_json() for report in reports], **(more or {})},
        lambda: before + "\n".join(report_text(each, dry_run=dry_run) for each in reports) + after,
        as_json=as_json,
    )
    if any(report.problems for report in reports):
        stop(1)
