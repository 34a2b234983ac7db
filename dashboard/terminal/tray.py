"""The command that lists what waits for a decision, or writes it down to be decided on."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, remark, the_book, write_new
from dashboard.terminal.text_table import text_table
from dashboard.words.figures import counted
from dashboard.words.tray import last_words
from pricing.names import NOT_AN_INGREDIENT

if TYPE_CHECKING:
    from ingest.tray.listing import WaitingWords


def tray(
    write: Annotated[
        Path | None,
        typer.Option("--write", help="Write it as a file of decisions, to edit and load."),
    ] = None,
    json: Json = False,
) -> None:
    """List what waits for a decision: which words are which ingredient; likely ones first."""
    from ingest.tray.decisions_file import decisions_csv
    from ingest.tray.listing import list_tray
    from pricing.clock import today

    book = the_book()
    waiting = list_tray(book, today())
    if write is not None:
        write_new(write, decisions_csv(book, waiting))
        remark(
            f"{write}: {counted(len(waiting), 'description')}. Look each over, correct it, then "
            f"`portiondrift load decisions {write}`. Check labels before you rely on allergens."
        )
    answer(
        {"waiting": [each.as_json() for each in waiting]}, lambda: tray_text(waiting), as_json=json
    )


def tray_text(waiting: Sequence[WaitingWords]) -> str:
    """Return a line for each description that waits."""
    if not waiting:
        return "Nothing waits for a decision."
    rows = [
        [
            each.words,
            each.sender or "",
            f"{each.lines:,}",
            last_words(each),
            _proposed(each),
            (each.proposal.pack if each.proposal else None) or each.pack or "",
            "" if each.proposal is None else f"{each.proposal.score:.0%}",
        ]
        for each in waiting
    ]
    head = ["Words", "From", "Lines", "Last price", "Perhaps", "Pack", "Sure"]
    lines = sum(each.lines for each in waiting)
    return (
        f"{text_table(head, rows, right=(2, 3, 6))}\n\n"
        f"{counted(len(waiting), 'description')}, {counted(lines, 'line')}. "
        "Write them down with `portiondrift tray --write decisions.csv`, decide, and load the file "
        "with `portiondrift load decisions decisions.csv`."
    )


def _proposed(each: WaitingWords) -> str:
    """Return what it may be."""
    if each.proposal is not None:
        return each.proposal.ingredient
    if each.known_as is not None or each.new_name in (None, NOT_AN_INGREDIENT):
        return each.known_as or each.new_name or ""
    return f"new: {each.new_name}"
