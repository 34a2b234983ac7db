"""Ingredients that a decision makes: its row states their facts, as an ingredients file does."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace as changed
from typing import Any

from ingest.kinds import ingredients
from ingest.kinds.checked import Checked, Options
from ingest.kinds.differences import shown_fact
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
    facts, remarks = _facts_once(rows)
    as_ingredients = [
        changed(row, value={**blank, "ingredient": row.value["ingredient"], **facts[_key(row)]})
        for row in rows
    ]
    checked = ingredients.check(con, as_ingredients, made, options)
    checked.remarks += remarks
    bad = checked.bad_lines()
    for number, row in enumerate(as_ingredients, start=1):
        if row.line not in bad and kitchen.find(row.value["ingredient"]) is None:
            kitchen.add(_known(-number, row))
    return checked


def _key(row: Row) -> str:
    return name_key(row.value["ingredient"])


def _facts_once(rows: Sequence[Row]) -> tuple[dict[str, dict[str, Any]], list[str]]:
    """Return the facts of each new ingredient: each by the first row that states it.

    Rows propose facts by their own words; which ones are left is said, and nothing is refused.
    """
    facts: dict[str, dict[str, Any]] = {}
    by: dict[tuple[str, str], Row] = {}
    left: dict[tuple[str, str], list[Row]] = {}
    for row in rows:
        held = facts.setdefault(_key(row), dict.fromkeys(FACTS))
        for name in FACTS:
            value = row.value[name]
            if value is not None and held[name] is None:
                held[name], by[_key(row), name] = value, row
            elif value is not None and held[name] != value:
                left.setdefault((_key(row), name), []).append(row)
    said = [
        f"{by[key].value['ingredient']} is made with {key[1].replace('_', ' ')} "
        f"{shown_fact(facts[key[0]][key[1]])}, as line {by[key].line} says; left aside: "
        + ", ".join(f"{shown_fact(row.value[key[1]])} (line {row.line})" for row in rows_left)
        + "."
        for key, rows_left in left.items()
    ]
    return facts, said


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
