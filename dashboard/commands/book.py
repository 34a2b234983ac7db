"""Commands that make, look at and keep the book."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from dashboard.commands.app import app
from dashboard.commands.options import Json
from dashboard.terminal import answer, book_path, stop, the_book


@app.command()
def init(
    currency: Annotated[str, typer.Option("--currency", help="ISO 4217, such as USD.")],
    measures: Annotated[str, typer.Option("--measures", help="metric, uk, us or au.")] = "metric",
    json: Json = False,
) -> None:
    """Make a new, empty book with the bundled official series."""
    from ingest.new_book import create_book
    from pricing.contents.settings import book_settings

    book = create_book(book_path(), currency, measures)
    held = book_settings(book)
    answer(
        {"book": str(book.path), "currency": held.currency, "measures": held.measures},
        lambda: f"Made the price book {book.path}: {held.currency}, {held.measures} measures.",
        as_json=json,
    )


@app.command()
def info(json: Json = False) -> None:
    """Say what the book holds."""
    from dashboard.book_words import info_text
    from pricing.book.keeping.info import info as book_info

    found = book_info(the_book())
    answer(found, lambda: info_text(found), as_json=json)


@app.command()
def setting(
    name: Annotated[
        str,
        typer.Argument(help="Such as fresh_days, food_series, allergen_list, rate_per_hour."),
    ],
    value: str,
    json: Json = False,
) -> None:
    """Change a setting of the book."""
    from pricing.contents.settings import change_setting

    change_setting(the_book(), name, value)
    answer({name: value}, lambda: f"{name} is now {value}.", as_json=json)


@app.command()
def check(
    upgrade: Annotated[
        bool, typer.Option("--upgrade", help="Bring an older book's structure up to date first.")
    ] = False,
    json: Json = False,
) -> None:
    """Look through every row of the book for damage."""
    from dashboard.book_words import check_text
    from pricing.book.connect import Book
    from pricing.book.keeping.check import check as check_book

    found = check_book(Book(path=book_path()), upgrade=upgrade)
    whole = {"problems": list(found.problems), "counts": found.counts}
    answer(whole, lambda: check_text(found), as_json=json)
    if found.problems:
        stop(1)


@app.command()
def backup(
    file: Annotated[Path, typer.Argument(help="A file that is not there yet.")], json: Json = False
) -> None:
    """Copy the book to FILE."""
    from pricing.book.connect import Book
    from pricing.book.keeping.archive import backup as copy_book

    made = copy_book(Book(path=book_path()), file)  # a book of an older structure, too
    answer({"backup": str(made)}, lambda: f"Copied the book to {made}.", as_json=json)


@app.command()
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


@app.command()
def export(
    folder: Annotated[Path, typer.Argument(help="An empty or new folder.")], json: Json = False
) -> None:
    """Write everything as CSV files that `load` reads."""
    from pricing.book.keeping.export import export as write_out

    made = write_out(the_book(), folder)
    names = [str(path) for path in made]
    answer({"files": names}, lambda: "\n".join(["Wrote:", *names]), as_json=json)
