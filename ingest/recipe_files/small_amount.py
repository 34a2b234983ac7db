"""Takes a stated small amount for one that a recipe line names without a number."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from functools import cache

from ingest.recipe_files.exact_text import exact_text
from ingest.recipes.line import RecipeLine
from ingest.recipes.words import choice
from ingest.text.sentences import quoted
from pricing.names import name_key
from pricing.reference.table import read_table

SmallAmount = tuple[str, str, str]  # quantity, unit, why


def small_amount(line: RecipeLine, text: str) -> SmallAmount | None:
    """Return what is taken for "a knob", "to taste" or "for greasing", and why; None for others.

    `text` is the line as written. A kitchen's own measure of that name goes before it: ask for that
    first.

    >>> from ingest.recipes.line import read_recipe_line
    >>> small_amount(read_recipe_line("2 handfuls of chard"), "2 handfuls of chard")[:2]
    ('60', 'g')
    """
    if line.quantity is not None and line.high is not None:
        row = _rows("unit").get(line.unit or "")
        number = (line.quantity + line.high) / 2
        if row is None or line.other or line.pack_quantity:  # a knob (20 g) needs no other weight
            return None
        return _told(text, row, number, f"for one {line.unit}")
    found = _anywhere().search(text)
    if found:
        words = " ".join(found[0].casefold().split())
        return _told(text, _rows("words")[words], Fraction(1), f"for '{words}'")
    alone = _rows("alone").get(name_key(line.item))
    if alone is None:
        return None
    return _told(text, alone, Fraction(1), "where no amount is said")


def _told(text: str, row: Mapping[str, str], number: Fraction, of: str) -> SmallAmount:
    amount = f"{row['quantity']} {row['unit']} {of}"
    total = exact_text(Fraction(row["quantity"]) * number)
    return total, row["unit"], f"{quoted(text)} names no weight: {amount} ({row['source']})"


@cache
def _rows(where: str) -> Mapping[str, Mapping[str, str]]:
    rows = read_table("small_amounts.csv", __package__)
    return {row["words"]: row for row in rows if row["where"] == where}


@cache
def _anywhere() -> re.Pattern[str]:
    return re.compile(rf"(?<!\w){choice(_rows('words'))}", re.IGNORECASE)
