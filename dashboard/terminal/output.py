"""What every command shares: where the book is, how an answer is printed, how an error ends."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any, NoReturn

import typer

from dashboard.terminal.table_format import FORMATS, read_format
from dashboard.terminal.text_table import tables_of
from pricing import days
from pricing.answer import plain
from pricing.book.connect import Book, open_book
from pricing.clock import today
from pricing.errors import (
    DateRefused,
    InputRefused,
    MeasureRefused,
    PortionDriftError,
    UnknownName,
)
from pricing.money import CurrencyRefused

# Exit status 2: the command itself was wrong. All else a user can mend ends with 1. (Bad rows
# of a file are no error here: they are the report that `load` prints.)
_COMMAND_WRONG = (DateRefused, UnknownName, CurrencyRefused, MeasureRefused, InputRefused)


@dataclass(kw_only=True)
class Chosen:
    """Options that stand before the command."""

    book: Path | None = None
    json: bool = False
    table: str | None = None  # csv, md or html: the tables alone


CHOSEN = Chosen()


def book_path() -> Path:
    """Return the book's file: --book, else $PORTIONDRIFT_BOOK, else one in the data folder."""
    if CHOSEN.book is not None:
        return CHOSEN.book
    named = os.environ.get("PORTIONDRIFT_BOOK")
    if named:
        return Path(named)
    import platformdirs

    return Path(platformdirs.user_data_dir("portiondrift", appauthor=False)) / "kitchen.duckdb"


def the_book() -> Book:
    """Return the chosen book after looking that it can be read."""
    return open_book(book_path())


def answer(value: Mapping[str, Any], text: Callable[[], str], *, as_json: bool) -> None:
    """Print an answer: one JSON object, or (made only then) text for a cook."""
    if as_json or CHOSEN.json:
        whole = value.as_json() if hasattr(value, "as_json") else plain(value)
        sys.stdout.write(json.dumps(whole, ensure_ascii=False, allow_nan=False) + "\n")
    elif CHOSEN.table is not None:
        _write_tables(text, CHOSEN.table)
    else:
        sys.stdout.write(text() + "\n")


def choose_format(name: str) -> None:
    """Let answers be their tables alone. Raises InputRefused."""
    if wants_json():
        raise InputRefused("Found --format beside --json; expected one of them. Leave one out.")
    CHOSEN.table = read_format(name)


def _write_tables(text: Callable[[], str], name: str) -> None:
    whole, tables = tables_of(text)
    if tables:
        title = next(line for line in whole.splitlines() if line.strip())
        sys.stdout.write(FORMATS[name](tables, title))
    else:
        remark(whole)


def remark(sentence: str) -> None:
    """Print a remark beside the answer."""
    sys.stderr.write(sentence + "\n")


def write_new(path: Path, text: str) -> None:
    """Write a new file. Raises InputRefused where there is one, or it cannot be written."""
    try:
        with path.open("x", encoding="utf-8", newline="") as file:
            file.write(text)
    except FileExistsError:
        raise InputRefused(
            f"Found a file {path}; expected a new name, so that nothing is overwritten. Name "
            "another file."
        ) from None
    except OSError as error:
        raise InputRefused(
            f"Cannot write {path}: {error.strerror or error}. Choose a folder that you may write "
            "to."
        ) from None


def refuse_chart(path: Path | None) -> None:
    """Raise InputRefused where a chart is asked for in a file that cannot be; before any work."""
    if path is not None:
        from dashboard.terminal.chart_file import refuse_format

        refuse_format(path)


def stop(status: int) -> NoReturn:
    """End with an exit status after the answer was printed."""
    raise typer.Exit(status)


def read_date(text: str) -> date:
    """Return a date written YYYY-MM-DD. Raises DateRefused."""
    return days.read_day(text)


def read_day(text: str) -> date:
    """Return a date written YYYY-MM-DD, today where none is written. Raises DateRefused."""
    return read_date(text) if text else today()


def misused(error: Any) -> int:
    """Print what is wrong with a command that could not be read; return the exit status."""
    if wants_json():
        sys.stdout.write(json.dumps({"error": error.format_message()}, ensure_ascii=False) + "\n")
    error.show()  # how the command is used, and what is wrong, on stderr
    return 2


def wants_json() -> bool:
    """Whether --json stands anywhere in the command: a wrong one may not be read in full."""
    return CHOSEN.json or "--json" in sys.argv


def refused(error: PortionDriftError) -> int:
    """Print what was refused and return the exit status."""
    if wants_json():
        sys.stdout.write(json.dumps({"error": str(error)}, ensure_ascii=False) + "\n")
    sys.stderr.write(f"{error}\n")
    if isinstance(error, InputRefused):
        for problem in error.problems:
            sys.stderr.write(f"  {problem.sentence()}\n")
    return 2 if isinstance(error, _COMMAND_WRONG) else 1
