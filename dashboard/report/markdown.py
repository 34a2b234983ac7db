"""Draws a document as Markdown, to be pasted into an article."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dashboard.words.document import Document, Section, Table
from dashboard.words.markdown import plain


def draw_markdown(document: Document) -> str:
    """Return the document in Markdown; a chart is the sentence that tells what it shows."""
    lines = [f"# {plain(document.title)}", "", plain(document.under), ""]
    for section in document.sections:
        lines += _section(section)
    return "\n".join(lines).rstrip("\n") + "\n"


def _section(section: Section) -> Iterator[str]:
    yield from (f"{'#' * section.level} {plain(section.title)}", "")
    for paragraph in section.says:
        yield from (plain(paragraph), "")
    if section.chart is not None:
        yield from (f"*{plain(section.chart.title)}.* {plain(section.chart.says)}", "")
    for each in section.listed:
        yield f"- {plain(each)}"
    if section.listed:
        yield ""
    for table in section.tables:
        yield from (*_table(table), "")


def _table(table: Table) -> Iterator[str]:
    yield _row(table.headings)
    rules = ["---:" if at in table.right else "---" for at in range(len(table.headings))]
    yield f"| {' | '.join(rules)} |"
    for row in table.rows:
        yield _row(row)


def _row(cells: Sequence[str]) -> str:
    return f"| {' | '.join(plain(' '.join(cell.split())) for cell in cells)} |"
