"""The command that takes a load back, or one row of the book."""

from __future__ import annotations

from typing import Annotated

import typer

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, the_book
from dashboard.words.figures import counted


def undo(
    load: Annotated[
        int | None, typer.Argument(help="The number that load printed; see info.")
    ] = None,
    row: Annotated[
        int | None,
        typer.Option("--row", help="One price, swap, printed figure or decision, by its row."),
    ] = None,
    reason: Annotated[str, typer.Option("--reason", help="Why; kept with the row.")] = "",
    json: Json = False,
) -> None:
    """Retract what a load added, or one row."""
    from ingest.load import undo as take_back
    from ingest.load import undo_row

    if (load is None) == (row is None):
        raise typer.BadParameter(
            "Found "
            + ("neither a load nor --row" if load is None else "a load and --row")
            + "; expected one of them: `undo 12` for a load, `undo --row 345` for one row."
        )
    if row is not None:
        gone = undo_row(the_book(), row, reason=reason)
        brought = f", and {counted(gone.rows - 1, 'row')} that came by it" if gone.rows > 1 else ""
        answer(
            {"row": row, "what": gone.what, "name": gone.name, "retracted": gone.rows},
            lambda: f"Taken back: row {row}, a {gone.what} of {gone.name}{brought}.",
            as_json=json,
        )
        return
    assert load is not None
    count = take_back(the_book(), load)
    answer(
        {"load": load, "retracted": count},
        lambda: f"Retracted load {load}: {counted(count, 'row')} that counted, no more.",
        as_json=json,
    )
