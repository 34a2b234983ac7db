"""What there is to choose from in a book: its ingredients, suppliers, and dishes with versions."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from pricing.answer import Answer
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import rows, settings
from pricing.errors import UnknownName
from pricing.names import name_key, nearest


@dataclass(frozen=True, kw_only=True)
class HeldIngredient(Answer):
    """An ingredient and how much is known of its price in the book's currency."""

    ingredient_id: int
    ingredient: str
    category: str | None
    base: str  # g, ml or each
    series: str | None
    series_title: str | None
    prices: int  # observations in force
    first_on: date | None
    last_on: date | None


@dataclass(frozen=True, kw_only=True)
class HeldVersion(Answer):
    """A version of a dish."""

    version: str
    effective_from: date
    portions: float  # per batch


@dataclass(frozen=True, kw_only=True)
class HeldDish(Answer):
    """A dish with its versions, the earliest first."""

    dish: str
    versions: tuple[HeldVersion, ...]


def held_ingredients(book: Book) -> list[HeldIngredient]:
    """Return every ingredient, by name."""
    with reading(book) as con:
        return ingredients_in(con)


def ingredients_in(con: Connection) -> list[HeldIngredient]:
    """`held_ingredients` in an open book."""
    found = rows(con, "contents/ingredients_held", {"currency": settings(con).currency})
    return [HeldIngredient(**row) for row in found]


def find_ingredient(con: Connection, name: str) -> HeldIngredient:
    """Return the ingredient called `name`. Raises UnknownName with the nearest names."""
    known = {each.ingredient: each for each in ingredients_in(con)}
    for held, facts in known.items():
        if name_key(held) == name_key(name):
            return facts
    raise UnknownName("ingredient", name, nearest(name, known))


def held_suppliers(book: Book) -> list[str]:
    """Return every supplier that a price names, as first written."""
    with reading(book) as con:
        return [row["supplier"] for row in rows(con, "contents/suppliers_held")]


def held_dishes(book: Book) -> list[HeldDish]:
    """Return every dish with its versions, by name."""
    found: dict[str, list[HeldVersion]] = {}
    with reading(book) as con:
        for row in rows(con, "dishes/recipe_versions", {"dishes": None}):
            found.setdefault(row["dish"], []).append(
                HeldVersion(
                    version=row["version"],
                    effective_from=row["effective_from"],
                    portions=row["portions"],
                )
            )
    return [HeldDish(dish=dish, versions=tuple(each)) for dish, each in found.items()]


def find_supplier(con: Connection, name: str) -> str:
    """Return the supplier's name as first written. Raises UnknownName with the nearest names."""
    known = [
        row[0]
        for row in con.execute(
            "SELECT arg_min(supplier, row_id) FROM observation_now "
            "WHERE supplier_key <> '' GROUP BY supplier_key ORDER BY 1"
        ).fetchall()
    ]
    for held in known:
        if name_key(held) == name_key(name):
            return str(held)
    raise UnknownName("supplier", name, nearest(name, known))
