"""Says in plain words which columns each kind of file has."""

from __future__ import annotations

import csv
import textwrap
from collections.abc import Sequence
from importlib.resources import files

from ingest.text.columns import KINDS, TABLES, Column

WIDTH = 79  # characters of a line in a terminal
_NAMES = 22  # characters of it for a column's name


def columns_help(kinds: Sequence[str] = KINDS) -> str:
    """Return the columns of each kind of file, as indented lines under the kind's name.

    >>> print(columns_help(["measures"]))
    Columns with * are required; the others may be left out.
    <BLANKLINE>
    measures
      ingredient *          an ingredient of the book
      measure *             a measure of its own, such as bunch
      grams *               what the measure weighs, as purchased
      source                who weighed it
    """
    about = columns_about()
    lines = ["Columns with * are required; the others may be left out."]
    for kind in kinds:
        lines += ["", kind]
        for column in TABLES[kind]:
            lines += _lines(column, about[kind, column.name])
    return "\n".join(lines)


def columns_about() -> dict[tuple[str, str], str]:
    """Return (kind, column) → what its cells say. Source: `columns.csv` in this folder."""
    text = files(__package__).joinpath("columns.csv").read_text(encoding="utf-8")
    return {(row["kind"], row["column"]): row["about"] for row in csv.DictReader(text.splitlines())}


def _lines(column: Column, about: str) -> list[str]:
    words = f" ({', '.join(column.words)})" if column.words else ""
    name = f"{column.name} *" if column.required else column.name
    return textwrap.wrap(
        about + words,
        width=WIDTH,
        initial_indent=f"  {name:<{_NAMES - 1}} ",
        subsequent_indent=" " * (_NAMES + 2),
    )
