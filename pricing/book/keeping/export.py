"""Writes what is in force to CSV files that a new book loads to give the same answers."""

from __future__ import annotations

import csv
import itertools
import os
from collections.abc import Iterator
from contextlib import suppress
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

from pricing.book.connect import Book, Connection, reading
from pricing.book.keeping.export_words import Words, plain, words
from pricing.book.keeping.file_copy import wording_disk_errors
from pricing.book.read import statement
from pricing.errors import BookUnreadable
from pricing.measures.read import Quantity
from pricing.names import guarded

# In the order in which a new book wants them: each names only what stands in those before it.
FILES = (
    "settings", "ingredients", "measures", "index", "prices", "dishes", "swaps", "printed",
    "printed_evidence",  # loaded as printed, after it: it adds the evidence to the figures
    "decisions",
)  # fmt: skip
_ROWS_AT_ONCE = 20_000


def export(book: Book, folder: str | os.PathLike[str]) -> list[Path]:
    """Write the book's content in force to `folder` and return the files, in loading order.

    One file for each kind of the contract that has rows (kind.csv), and settings.csv. Packs and
    quantities are as first written, decimals exact and without an exponent.
    Left out: what was retracted or replaced, the official series that a new book brings along, and
    of the tray the prices that wait (a backup has them).
    Load them with --replace, in case the book has another word on a series that came along.
    The order of rows follows from their content, so that two exports can be compared as text.
    Raises BookUnreadable when the folder is not empty or cannot be written; nothing is left there.
    """
    path = Path(folder)
    written: list[Path] = []
    with wording_disk_errors(path), reading(book) as con:
        made = not path.exists()
        path.mkdir(parents=True, exist_ok=True)
        if any(path.iterdir()):
            raise BookUnreadable(
                f"Found files in {path}; expected a new or an empty folder, so that nothing is "
                "overwritten or mixed. Name another folder."
            )
        try:
            for name in FILES:
                file = path / f"{name}.csv"
                if _write(con, name, file):
                    written.append(file)
        except BaseException:
            for name in FILES:
                (path / f"{name}.csv").unlink(missing_ok=True)
            if made:
                with suppress(OSError):
                    path.rmdir()
            raise
    return written


def _write(con: Connection, name: str, path: Path) -> bool:
    """Write one file; write none, and return False, when there are no rows."""
    shown, rows = in_force(con, name)
    first = next(rows, None)
    if first is None:
        return False
    with path.open("x", encoding="utf-8", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        # before Python 3.13 the writer leaves a lone carriage return bare, which ends a row
        quoted = csv.writer(file, lineterminator="\n", quoting=csv.QUOTE_ALL)
        out.writerow(shown)
        for row in itertools.chain([first], rows):
            # words may be from elsewhere; a load takes the guard away again
            texts = [guarded(cell) if isinstance(cell, str) else _cell(cell) for cell in row]
            (quoted if any("\r" in text for text in texts) else out).writerow(texts)
    return True


def in_force(con: Connection, name: str) -> tuple[list[str], Iterator[list[Any]]]:
    """Return the columns of one of FILES and its rows in force, their values as they are stored."""
    said = words(con)
    result = con.execute(statement(f"keeping/export_{name}"))
    columns = [column[0] for column in result.description or ()]
    shown = [column for column in columns if not column.startswith("stored_")]
    return shown, _in_our_words(con, shown, said)


def _in_our_words(con: Connection, shown: list[str], said: Words) -> Iterator[list[Any]]:
    while several := con.fetchmany(_ROWS_AT_ONCE):
        for row in several:
            cells, stored = list(row[: len(shown)]), row[len(shown) :]
            if stored and stored[0] is not None:  # of an ingredient, not of another dish
                _reword(cells, shown, stored, said)
            yield cells


def _reword(cells: list[Any], shown: list[str], stored: tuple[Any, ...], said: Words) -> None:
    """Put other words for an amount where those first written would be read otherwise."""
    ingredient_id, amount, dimension, measure_key = stored
    stored_as = Quantity(amount=amount, dimension=dimension, measure_key=measure_key)
    if "pack" in shown:
        at = shown.index("pack")
        cells[at] = said.pack(ingredient_id, cells[at], stored_as)
    else:
        at = shown.index("quantity")  # and the unit follows it
        cells[at : at + 2] = said.line(ingredient_id, cells[at], cells[at + 1], stored_as)


def _cell(value: object) -> str:
    """Return the text of one cell: the same value when read again, and no exponent.

    >>> _cell(Decimal("1.2500")), _cell(120.0), _cell(0.00001), _cell(None)
    ('1.25', '120', '0.00001', '')
    """
    if isinstance(value, str):
        return value
    if value is None:
        return ""
    if isinstance(value, float):
        value = Decimal(repr(value))
    if isinstance(value, Decimal):
        return plain(value)
    if isinstance(value, date):
        return value.isoformat()
    return str(value)
