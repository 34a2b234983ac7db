"""A version of a dish in the words in which it was entered, to be copied and changed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from pricing.book.connect import Book, Connection, reading
from pricing.book.read import rows
from pricing.dishes.recipes import read_dish

_LINE = ("ingredient", "quantity", "unit", "state", "yield_pct", "pantry", "note")


@dataclass(frozen=True, kw_only=True)
class WrittenLine:
    """One line, as the columns of a dishes file have it."""

    ingredient: str  # or dish:NAME; "waiting: WORDS" where nobody decided on it
    quantity: str
    unit: str
    state: str = "as_purchased"  # or edible
    yield_pct: Decimal | None = None
    pantry: bool = False
    note: str | None = None


@dataclass(frozen=True, kw_only=True)
class WrittenVersion:
    """One version with its lines as printed."""

    dish: str
    version: str
    effective_from: date
    portions: Decimal
    batch_weight_g: Decimal | None
    group: str | None
    minutes: Decimal | None
    made_per_month: Decimal | None
    target: Decimal | None  # cost per portion, in the book's currency
    minutes_waiting: Decimal | None  # per batch, without work
    energy_kwh: Decimal | None  # per batch
    pots: int | None  # to wash up, per batch
    lines: tuple[WrittenLine, ...]


def written_version(book: Book, dish: str, version: str | None, on: date) -> WrittenVersion:
    """Return a version of a dish, or the one in force on a day, as it was entered.

    Raises UnknownName with the nearest names.
    """
    with reading(book) as con:
        return written_in(con, dish, version, on)


def written_in(con: Connection, dish: str, version: str | None, on: date) -> WrittenVersion:
    """`written_version` in an open book."""
    dish_id, recipes = read_dish(con, dish)
    in_force, _ = recipes.in_force(dish_id, on)
    wanted = in_force if version is None else recipes.named(dish_id, version)
    found = rows(con, "dishes/written_version", {"version_row": wanted.row})
    lines = [WrittenLine(**{name: row.pop(name) for name in _LINE}) for row in found]
    return WrittenVersion(**found[0], lines=tuple(lines))
