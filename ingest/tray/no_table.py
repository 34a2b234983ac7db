"""Says of a text without columns that can be prices or printed figures what it is."""

from __future__ import annotations

from ingest.recipe_files.read import read_recipes
from ingest.tables.contents import contents
from ingest.tables.grid import as_written
from ingest.tables.propose import Proposal
from ingest.tables.questions import choices_of
from ingest.text.any_encoding import read_any_text
from ingest.text.columns import TABLES
from ingest.text.sentences import quoted
from ingest.till_text.read import breaks_off
from pricing.errors import Problem

_ENOUGH = 0.5  # of a column's cells are amounts
_ANY = {  # the second way, beside our own columns
    "prices": "a column of descriptions and one of prices",
    "printed": "a column of dishes and one of costs per portion",
}
_TELL = {
    "prices": '--answer "words=HEADING" --answer "price=HEADING"',
    "printed": '--answer "dish=HEADING" --answer "amount=HEADING"',
}


def no_table_of(kind: str, data: bytes, name: str, found: Proposal) -> Problem | None:
    """Return why a file is asked nothing: it is no table, or one without what its kind needs."""
    open_still = {each.name for each in found.questions} & {"words", "price", "dish", "amount"}
    if not open_still:
        return None
    if found.table.header is None and not data.startswith(b"PK"):
        other = _other_text(kind, data, name)
        if other is not None:
            return other
    amounts = any(
        cells.numbers >= _ENOUGH and cells.dates < _ENOUGH
        for place in range(len(found.table.headings))
        if (cells := contents(found.table.rows, place)).filled
    )
    if amounts:
        return None
    return _neither(kind, found)


def _other_text(kind: str, data: bytes, name: str) -> Problem | None:
    text = read_any_text(data, "a text")
    if isinstance(text, Problem):
        return None
    if kind == "prices" and breaks_off(text):
        return Problem(
            line=None, column=None, found="a receipt that breaks off before its total",
            expected="all of its lines, the total the last",
            remedy="Copy the whole receipt again, or write each thing and its price on one line "
            "and the total below them.",
        )  # fmt: skip
    recipes = read_recipes(data, name).recipes
    if recipes:
        title = f", {quoted(recipes[0].title)}" if recipes[0].title else ""
        return Problem(
            line=None, column=None, found=f"a recipe{title}", expected=_expected(kind),
            remedy="Load it as dishes: `portiondrift load dishes FILE`.",
        )  # fmt: skip
    return None


def _neither(kind: str, found: Proposal) -> Problem:
    rows = found.table.rows
    if found.table.header is None:
        first = as_written(rows[0]) if rows else ""
        what = f"a text that begins with {quoted(first)}, and no column of amounts in it"
    else:
        headings = choices_of(found.table.headings[:12])
        what = f"a table with the columns {headings}, none of which holds amounts"
    return Problem(
        line=found.table.header, column=None, found=what, expected=_expected(kind),
        remedy=f"Check which file was saved, or name the columns with {_TELL[kind]}.",
    )  # fmt: skip


def _expected(kind: str) -> str:
    required = ", ".join(column.name for column in TABLES[kind] if column.required)
    also = "; a receipt or an e-invoice, too" if kind == "prices" else ""
    return f"our own columns ({required}), or any table with {_ANY[kind]}{also}"
