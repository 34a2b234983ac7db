"""An answer's tables as CSV, Markdown or HTML instead of text: the option and the writing."""

from __future__ import annotations

import csv
import functools
import html
import inspect
import io
from collections.abc import Callable, Sequence
from typing import Annotated

import typer

from dashboard.terminal.text_table import Table
from dashboard.words.markdown import plain
from pricing.errors import InputRefused
from pricing.names import guarded

NOTHING = "—"  # a cell that tells nothing; in CSV an empty one
_STEP = "\u2003"  # what is inside something else stands further in


def as_csv(tables: Sequence[Table], title: str) -> str:
    """Return tables as CSV, an empty line between two; no cell is a spreadsheet's formula."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    for place, table in enumerate(tables):
        if place:
            out.write("\n")
        for row in (table.headings, *table.rows):
            writer.writerow([guarded("" if cell == NOTHING else cell.strip()) for cell in row])
    return out.getvalue()


def as_markdown(tables: Sequence[Table], title: str) -> str:
    """Return tables in Markdown, figures flush right."""
    parts = []
    for table in tables:
        places = range(len(table.headings))
        marks = ["---:" if at in table.right else "---" for at in places]
        rows = [list(map(_cell, table.headings)), marks]
        rows += [list(map(_cell, row)) for row in table.rows]
        parts.append("\n".join(f"| {' | '.join(row)} |" for row in rows))
    return "\n\n".join(parts) + "\n"


def _cell(text: str) -> str:
    return plain(_further_in(" ".join(text.splitlines())))


def as_html(tables: Sequence[Table], title: str) -> str:
    """Return tables as a page of HTML; whatever a cell holds is shown as it is."""
    parts = [
        "<!DOCTYPE html>",
        '<html lang="en">',
        f'<head><meta charset="utf-8"><title>{html.escape(title)}</title></head>',
        "<body>",
    ]
    for table in tables:
        heads = [
            _tagged('th scope="col"', each, table, at) for at, each in enumerate(table.headings)
        ]
        parts += ["<table>", f"<thead><tr>{''.join(heads)}</tr></thead>", "<tbody>"]
        for row in table.rows:
            cells = [_tagged("td", each, table, at) for at, each in enumerate(row)]
            parts.append(f"<tr>{''.join(cells)}</tr>")
        parts += ["</tbody>", "</table>"]
    return "\n".join([*parts, "</body>", "</html>", ""])


def _html_row(cells: Sequence[str], table: Table, tag: str) -> str:
    return f"<tr>{''.join(_tagged(tag, each, table, at) for at, each in enumerate(cells))}</tr>"


def _tagged(tag: str, text: str, table: Table, at: int) -> str:
    side = ' style="text-align: right"' if at in table.right else ""
    return f"<{tag}{side}>{html.escape(_further_in(text))}</{tag.split()[0]}>"


def _further_in(text: str) -> str:
    bare = text.lstrip(" ")
    return _STEP * ((len(text) - len(bare)) // 2) + bare


FORMATS: dict[str, Callable[[Sequence[Table], str], str]] = {
    "csv": as_csv, "md": as_markdown, "html": as_html,
}  # fmt: skip
Format = Annotated[
    str | None, typer.Option("--format", help="The tables alone, as csv, md or html.")
]


def read_format(name: str | None) -> str | None:
    """Return the format asked for. Raises InputRefused for one that there is not."""
    if name is not None and name not in FORMATS:
        raise InputRefused(
            f"Found the format '{name}'; expected {', '.join(FORMATS)}. Name one of them, or ask "
            "for --json."
        )
    return name


def with_format(command: Callable[..., None], choose: Callable[[str], None]) -> Callable[..., None]:
    """Return a command that takes --format, too, and hands it to `choose` before it begins."""
    signature = inspect.signature(command, eval_str=True)
    option = inspect.Parameter(
        "table_format", inspect.Parameter.KEYWORD_ONLY, default=None, annotation=Format
    )

    @functools.wraps(command)
    def asked(*args: object, table_format: str | None = None, **options: object) -> None:
        if table_format is not None:
            choose(table_format)
        command(*args, **options)

    parameters = [*signature.parameters.values(), option]
    asked.__signature__ = signature.replace(parameters=parameters)  # type: ignore[attr-defined]
    asked.__annotations__ = {each.name: each.annotation for each in parameters}
    del asked.__wrapped__  # its own parameters are to be read
    return asked
