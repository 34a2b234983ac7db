"""The command that brings the book back from a copy."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, book_path


def restore(
    file: Annotated[Path, typer.Argument(help="A file made by backup.")],
    replace: Annotated[
        bool, typer.Option("--replace", help="Set the present book aside first.")
    ] = False,
    json: Json = False,
) -> None:
    """Bring the book back from FILE."""
    from pricing.book.keeping.archive import restore as bring_back

    kept = bring_back(book_path(), file, replace=replace)
    aside = f" The former book is kept as {kept}." if kept else ""
    answer(
        {"book": str(book_path()), "kept": str(kept) if kept else None},
        lambda: f"Brought back {book_path()} from {file}.{aside}",
        as_json=json,
    )
