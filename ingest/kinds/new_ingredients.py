"""Ingredients that a decision makes: its row states their facts, as an ingredients file does."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace as changed

from ingest.kinds import ingredients
from ingest.kinds.checked import Checked, Options
from ingest.kinds.kitchen import Kitchen
from ingest.text.columns import TABLES
from ingest.text.csv_text import RawRow
from ingest.text.header import Heading, match_header
from ingest.text.rows import Row
from pricing.book.connect import Connection
from pricing.book.known import KnownIngredient
from pricing.names import name_key

FACTS = ("base", "category", "density_g_per_ml", "grams_each", "yield_pct", "series")


def is_new(row: Row, kitchen: Kitchen) -> bool:
    """Tell whether a row of decisions makes an ingredient: the book has none, and it has a base."""
    name = row.value["ingredient"]
    return name is not None and row.value["base"] is not None and kitchen.find(name) is None


def check_new(con: Connection, rows: Sequence[Row], kitchen: Kitchen, options: Options) -> Checked:
    """Return what the rows that make ingredients add, and let the kitchen know the new ones.

    They go by negative numbers until they are stored.
    """
    columns = TABLES["ingredients"]
    made = match_header(RawRow(line=1, raw="", cells=("ingredient", *FACTS)), columns)
    assert isinstance(made, Heading)
    blank = {column.name: None for column in columns}
    as_ingredients = [
        changed(row, value={**blank, **{name: row.value[name] for name in ("ingredient", *FACTS)}})
        for row in rows
    ]
    checked = ingredients.check(con, as_ingredients, made, options)
    bad = checked.bad_lines()
    for number, row in enumerate(as_ingredients, start=1):
        if row.line not in bad and kitchen.find(row.value["ingredient"]) is None:
            kitchen.add(_known(-number, row))
    return checked


def _known(number: int, row: Row) -> KnownIngredient:
    value = row.value
    return KnownIngredient(
        ingredient_id=number,
        name=value["ingredient"],
        name_key=name_key(value["ingredient"]),
        allergens=None,
        aliases=(),
        **{name: value[name] for name in FACTS},
    )
