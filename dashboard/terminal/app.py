"""The command line as a whole: what stands before every command."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from dashboard.terminal.options import Json
from dashboard.terminal.output import CHOSEN

app = typer.Typer(
    name="portiondrift",
    help="What did this dish cost then, what does it cost now, and why.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)
index = typer.Typer(
    help="Official price series: list, show, load, fetch, link, check.", no_args_is_help=True
)
app.add_typer(index, name="index")


@app.callback()
def options(
    book: Annotated[
        Path | None, typer.Option("--book", help="The price book; else $PORTIONDRIFT_BOOK.")
    ] = None,
    json: Json = False,
) -> None:
    """Options for every command."""
    CHOSEN.book, CHOSEN.json, CHOSEN.table = book, json, None
