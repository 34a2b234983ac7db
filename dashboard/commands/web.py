"""Commands that open the dashboard."""

from __future__ import annotations

import os
from typing import Annotated

import typer

from dashboard.commands.app import app
from dashboard.commands.options import Json, Port
from dashboard.terminal import CHOSEN, answer, book_path, the_book


@app.command()
def serve(port: Port = 8501) -> None:
    """Open the web dashboard on this computer."""
    from dashboard.server import serve as run

    run(the_book().path, port)


@app.command()
def demo(
    no_serve: Annotated[bool, typer.Option("--no-serve", help="Stop after the table.")] = False,
    port: Port = 8501,
    json: Json = False,
) -> None:
    """Build the invented demo kitchen, print then and now, open the dashboard."""
    from dashboard.demo import demo_path, make_demo, then_and_now

    named = CHOSEN.book is not None or "PORTIONDRIFT_BOOK" in os.environ
    path = demo_path(book_path() if named else None)
    book = make_demo(path)
    table, text = then_and_now(book)
    answer({"book": str(path), "dishes": table}, lambda: text, as_json=json)
    if not no_serve:
        from dashboard.server import serve as run

        run(path, port)
