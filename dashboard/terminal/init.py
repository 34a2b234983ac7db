"""The command that makes a new book."""

from __future__ import annotations

from typing import Annotated

import typer

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, book_path


def init(
    currency: Annotated[str, typer.Option("--currency", help="ISO 4217, such as USD.")],
    measures: Annotated[str, typer.Option("--measures", help="metric, uk, us or au.")] = "metric",
    json: Json = False,
) -> None:
    """Make a new, empty book with the bundled official series."""
    from ingest.new_book import create_book
    from pricing.contents.settings import book_settings

    book = create_book(book_path(), currency, measures)
    settings = book_settings(book)
    answer(
        {"book": str(book.path), "currency": settings.currency, "measures": settings.measures},
        lambda: (
            f"Made the price book {book.path}: {settings.currency}, {settings.measures} measures."
        ),
        as_json=json,
    )
