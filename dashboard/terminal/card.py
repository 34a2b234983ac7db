"""The command that shows one dish's costing on a page, or writes it to a file."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import Force, Json
from dashboard.terminal.output import answer, read_day, stop, the_book
from dashboard.terminal.text_table import text_table, wrapped

if TYPE_CHECKING:
    from dashboard.words.document import Document, Section


def card(
    dish: str,
    on: Annotated[str, typer.Option("--on", help="Date, YYYY-MM-DD; today unless stated.")] = "",
    version: Annotated[str | None, typer.Option("--version")] = None,
    out: Annotated[
        Path | None, typer.Option("--out", help="Write it instead: FILE.html or FILE.md.")
    ] = None,
    force: Force = False,
    json: Json = False,
) -> None:
    """Show a dish's costing on one page: lines that add up, evidence, a line to sign."""
    from dashboard.report.draw import DOCUMENTS, draw_document
    from dashboard.report.file import refuse_file, write_whole
    from dashboard.words.card import card_answer, card_document
    from pricing import cost_dish
    from pricing.contents.settings import book_settings

    ending = None if out is None else refuse_file(out, DOCUMENTS, force=force)
    book = the_book()
    cost = cost_dish(book, dish, on=read_day(on), version=version)
    document = card_document(cost, book_settings(book))
    told, text = card_answer(cost), ""
    if out is not None and ending is not None:
        sha256 = write_whole(out, draw_document(document, ending))
        told |= {"file": str(out), "sha256": sha256}
        text = f"{out}\nSHA-256 {sha256}"
    answer(told, lambda: text or document_text(document), as_json=json)
    if not cost.complete:
        stop(1)


def document_text(document: Document) -> str:
    """Return a document as the terminal shows it."""
    parts = [f"{document.title}, {document.under}", ""]
    for section in document.sections:
        parts += _section_text(section)
    return "\n".join(parts).rstrip("\n")


def _section_text(section: Section) -> list[str]:
    lines = [wrapped(each) for each in section.says]
    for table in section.tables:
        lines += ["", text_table(table.headings, table.rows, right=table.right)] if lines else [
            text_table(table.headings, table.rows, right=table.right)
        ]  # fmt: skip
    lines += [wrapped(each) for each in section.listed]
    return [*lines, ""]
