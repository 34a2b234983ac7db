"""The command that takes a load back."""

from __future__ import annotations

from typing import Annotated

import typer

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, the_book
from dashboard.words.figures import counted


def undo(
    load: Annotated[int, typer.Argument(help="The number that load printed; see info.")],
    json: Json = False,
) -> None:
    """Retract what a load added."""
    from ingest.load import undo as take_back

    count = take_back(the_book(), load)
    answer(
        {"load": load, "retracted": count},
        lambda: f"Retracted load {load}: {counted(count, 'row')} that counted, no more.",
        as_json=json,
    )
