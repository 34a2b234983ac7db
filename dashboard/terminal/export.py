"""The command that writes the whole book out as CSV."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, the_book


def export(
    folder: Annotated[Path, typer.Argument(help="An empty or new folder.")], json: Json = False
) -> None:
    """Write everything as CSV files that `load` reads."""
    from pricing.book.keeping.export import export as write_out

    made = write_out(the_book(), folder)
    names = [str(path) for path in made]
    answer({"files": names}, lambda: "\n".join(["Wrote:", *names]), as_json=json)
