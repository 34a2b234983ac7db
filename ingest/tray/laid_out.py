"""Tells what came of proposing a table's layout: what is asked, what is kept, what is unread."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace as changed

from ingest.brought import PriceLine
from ingest.one_file import Incoming
from ingest.report import FileReport, Remark
from ingest.tables.grid import as_written
from ingest.tables.printed_lines import PrintedLine
from ingest.tables.propose import Proposal
from ingest.tables.questions import as_problem
from ingest.text.sentences import quoted
from pricing.book.append import Columns
from pricing.errors import Problem
from pricing.money import exact_money


def unread_rows(found: Proposal, problems: Sequence[Problem]) -> dict[int, str]:
    """Return the rows that problems are about, as written, by their lines."""
    lines = {problem.line for problem in problems}
    return {row.line: as_written(row) for row in found.table.rows if row.line in lines}


def asked(file: Incoming, found: Proposal) -> FileReport:
    """Return one problem that asks all, with the first lines as they would be read."""
    preview = tuple(map(_in_words, found.preview))
    said = [f"Would be read: {each}" for each in preview]
    report = FileReport.refused(file.shown, [as_problem(found.questions)], (*found.remarks, *said))
    return changed(report, questions=found.questions, preview=preview)


def _in_words(line: PriceLine | PrintedLine) -> str:
    if isinstance(line, PrintedLine):
        return (
            f"{quoted(line.dish)}, {exact_money(line.amount, line.currency)} a portion, {line.day}."
        )
    money = exact_money(line.price, line.currency)
    return f"{quoted(line.words)}, {money}{_for_what(line)}, {line.day}."


def _for_what(line: PriceLine) -> str:
    """Return for how much of it a price is: " for 2 of 500 g", " for 4"."""
    if line.count == 1:
        return f" for {line.pack}" if line.pack else ""
    return f" for {line.count.normalize():f}{f' of {line.pack}' if line.pack else ''}"


def layout_rows(found: Proposal) -> dict[str, Columns]:
    """Return the row of the table layout; none where the layout was kept before."""
    if found.known:
        return {}
    layout = found.layout
    return {
        "layout": {
            "line": [found.table.header],
            "raw": [None],
            "fingerprint": [layout.fingerprint],
            "kind": [layout.kind],
            "sender": [layout.sender],
            "layout": [layout.to_json()],
        }
    }


def kept_words(found: Proposal) -> list[Remark]:
    """Say how the columns were read, where that is kept from now on."""
    if found.known:
        return []
    columns = ", ".join(
        f"{quoted(heading, most=30)} = {meaning.replace('_', ' ')}"
        for heading, meaning in found.layout.columns
    )
    return [
        Remark(
            f"Its columns were read so, and later tables with these headings will be: {columns}.",
            would=f"Its columns would be read so, as later tables with these headings: {columns}.",
        )
    ]
