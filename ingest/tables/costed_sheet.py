"""Tells a table that costs one dish line by line from other tables, and finds which dish it is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from ingest.report import Question
from ingest.tables.costed_rows import portions_said, says_portion
from ingest.tables.dates import orders_of, read_month
from ingest.tables.grid import Grid, as_written, text_of
from ingest.tables.headings import heading_says
from ingest.tables.numbers import read_number
from ingest.tables.row_kinds import first_words, row_kind
from ingest.tables.table import Table
from ingest.text.fold import fold
from ingest.text.sentences import quoted
from pricing.errors import InputRefused, Problem
from pricing.names import name_key, nearest

MOST_ROWS = 500  # a table with more is no costing of a dish
_THINGS = frozenset(("words", "ingredient", "product"))
_MONEY = frozenset(("price", "unit_price", "total", "amount"))
_LIST = frozenset(
    ("pack", "gtin", "item_number")
)  # what a list of prices has and old costings lack


def is_costing(table: Table, told: Mapping[str, str]) -> bool:
    """Tell whether a table has the columns of a dish's costed lines.

    A thing, how much of it, and money; a column of dishes or of costs per portion alone is a list
    of costings. An answer that names the column of dishes or of amounts says that it is one, too.
    """
    headings = {fold(each) for each in table.headings}
    if any(fold(told.get(each, "")) in headings for each in ("dish", "amount")):
        return False
    first, meanings = _meanings(table)
    if len(table.rows) > MOST_ROWS or not meanings & _THINGS or not meanings & _MONEY:
        return False
    if "dish" in first and not first & _THINGS:
        return False
    return "count" in meanings or ("pack" in meanings and {"total", "price"} <= meanings)


def is_dish_costing(table: Table) -> bool:
    """Tell whether a table that may cost a dish says so itself: by portions, or their cost."""
    rows = (*table.banner, *table.rows)
    # beside an amount, "for 4" is of a thing that is sold so
    alone = [row for row in table.rows if sum(cell != "" for cell in row.cells) == 1]
    first, _ = _meanings(table)
    return (
        bool({"amount", "yield_pct", "trim_pct"} & first)
        or any(says_portion(first_words(row.cells).partition(":")[0]) for row in rows)
        or portions_said([*table.banner, *alone]) is not None
    )


def is_price_list(table: Table) -> bool:
    """Tell whether a table has things, prices and packs or numbers of articles, and no dish."""
    first, meanings = _meanings(table)
    return bool(
        first & _THINGS and meanings & {"price", "unit_price", "total"} and meanings & _LIST
    ) and not first & {"dish", "amount", "version", "published_on"}


def _meanings(table: Table) -> tuple[set[str], set[str]]:
    """Return what the headings mean first, and all that they may mean."""
    says = [heading_says(heading) for heading in table.headings]
    first = {each.meanings[0] for each in says if each.meanings}
    return first, {meaning for each in says for meaning in each.meanings}


def told_of_month(table: Table, told: Mapping[str, str]) -> dict[str, str]:
    """Return the first day of the one month that stands above a table without a date.

    >>> from ingest.tables.csv_grid import csv_grid
    >>> from ingest.tables.table import find_tables
    >>> text = b"Leek soup;October 2019" + bytes([10]) + b"Zutat;Menge;Kosten"
    >>> told_of_month(find_tables(csv_grid(text))[0], {})
    {'day': '2019-10-01'}
    """
    cells = [text_of(cell) for row in table.banner for cell in row.cells if cell != ""]
    parts = [part.strip() for cell in cells for part in (cell, cell.partition(":")[2]) if part]
    months = {month for part in parts if (month := read_month(part)) is not None}
    if "day" in told or len(months) != 1 or any(orders_of(part) is not None for part in parts):
        return {}
    return {"day": months.pop().isoformat()}


def dish_of(
    table: Table, dishes: Sequence[str], told: Mapping[str, str], file_name: str
) -> tuple[str, str | None] | Question:
    """Return the dish that is costed and the words that say so, or the question which it is.

    Told; else the one dish of the book that a title, a labelled line, a column or the name of the
    sheet names. A file's name only proposes.
    """
    if told.get("dish", "").strip():
        return " ".join(told["dish"].split()), None
    titles = [*_titles(table), table.sheet]
    for title in titles:
        named = _named(title, dishes)
        if len(named) == 1:
            return named[0], title
    title = next((each for each in titles if each), "")
    stem = file_name.rpartition(".")[0].replace("_", " ").replace("-", " ")
    near = _named(stem, dishes) or nearest(title or stem, dishes, most=1)
    return Question(
        name="dish",
        asks="Which dish of the book is costed here?",
        choices=(),
        proposed=near[0] if near else None,
        evidence=f"Above the table stands {quoted(title)}, which names no one dish of the book."
        if title
        else "Nothing above the table names one; a list of prices is loaded as prices.",
    )


def several_dishes(table: Table) -> Problem | None:
    """Return the problem of a table whose column of dishes names more than one."""
    held = _held_dishes(table)
    if len(held) < 2:
        return None
    return Problem(
        line=None,
        column=None,
        found=f"costed lines of {len(held)} dishes, {quoted(held[0])} and {quoted(held[1])} first",
        expected="those of one dish in a file or sheet",
        remedy="Save the lines of each dish as a file of their own, with its day and its total.",
    )


def _titles(table: Table) -> list[str]:
    titles = []
    for row in table.banner:
        for cell in row.cells:
            if isinstance(cell, str) and any(map(str.isalpha, cell)):
                titles.append(" ".join(cell.split()))
    return [*titles, *_held_dishes(table)]


def _held_dishes(table: Table) -> list[str]:
    """Return the dishes that a column names, in order; none where no column is one of dishes."""
    for place, heading in enumerate(table.headings):
        if heading_says(heading).meanings[:1] == ("dish",):
            named = [text_of(row.cells[place]) for row in table.rows if place < len(row.cells)]
            named = [each for each in named if each and row_kind(each) != "total"]
            return list(dict.fromkeys(each for each in named if not says_portion(each)))
    return []


def _named(title: str, dishes: Sequence[str]) -> list[str]:
    """Return the dishes that a title names: all of its words, else the longest within it."""
    key = name_key(title)
    whole = [dish for dish in dishes if name_key(dish) == key]
    if whole or not key:
        return whole
    words = f" {fold(title)} "
    within = [dish for dish in dishes if fold(dish) and f" {fold(dish)} " in words]
    return [
        dish
        for dish in within
        if not any(dish != other and f" {fold(dish)} " in f" {fold(other)} " for other in within)
    ]


def portions_told(told: Mapping[str, str]) -> Fraction | None:
    """Return the number of portions that was told. Raises InputRefused for what is none."""
    given = told.get("portions")
    if given is None:
        return None
    number = read_number(given, "," if "," in given else ".")
    if number is None or number <= 0:
        raise InputRefused(
            f"Found portions={given}; expected a number such as 4. Correct the answer."
        )
    return Fraction(number)


def not_here(kind: str, table: Table) -> Problem:
    """Return the problem of a table that belongs to another kind of file; `kind`: that it has."""
    first = quoted(as_written(table.banner[0]) if table.banner else " | ".join(table.headings))
    found, remedy = {
        "printed": (
            f"the costing of one dish, which begins with {first}",
            "Load it as printed: its prices and its cost per portion are both taken.",
        ),
        "prices": (
            f"a list of prices, which begins with {first}",
            "Load it as prices.",
        ),
    }[kind]
    expected = {
        "printed": "a list of prices, an e-invoice or a receipt",
        "prices": "dishes with a day and a cost per portion, or the costed lines of one dish",
    }[kind]
    return Problem(line=None, column=None, found=found, expected=expected, remedy=remedy)


def working(grids: Sequence[Grid], table: Table) -> str:
    """Return the sheet of a table as it is written, row under row: the working behind a figure."""
    grid = next(each for each in grids if each.name == table.sheet)
    return "\n".join(as_written(row) for row in grid.rows)
