"""What came of a load, as a cook reads it in a terminal."""

from __future__ import annotations

from dashboard.words import counted
from ingest.report import FileReport

MOST_SHOWN = 50  # problems listed in a terminal; --json lists all


def report_text(report: FileReport, *, dry_run: bool = False) -> str:
    """Return what one file added (in a dry run: would add), or every problem of it."""
    added = "would be added" if dry_run else "added"
    rows = f"{counted(report.added, 'row')} {added}, {report.already:,} already in the book"
    if report.problems:
        stored = report.batch is not None
        outcome = f"{rows}, others refused" if stored else "nothing stored"
        lines = [f"{report.file}: {counted(len(report.problems), 'problem')}; {outcome}."]
        lines += [f"  {problem.sentence()}" for problem in report.problems[:MOST_SHOWN]]
        if len(report.problems) > MOST_SHOWN:
            left = len(report.problems) - MOST_SHOWN
            lines.append(f"  … and {left:,} more; --json lists all of them.")
        if report.refused_file:
            lines.append(f"  The refused rows, with reasons, are in {report.refused_file}.")
    elif report.batch is None:
        lines = [f"{report.file}: {rows}; {'a dry run, ' if dry_run else ''}nothing was stored."]
    else:
        lines = [
            f"{report.file}: {rows}. Batch {report.batch}; `undo {report.batch}` takes it back."
        ]
    return "\n".join(lines)
