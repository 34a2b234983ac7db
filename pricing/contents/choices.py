"""What there is to choose from in a book: its ingredients, suppliers, and dishes with versions."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from pricing.answer import Answer
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import read_settings, rows
from pricing.names import find, name_key


@dataclass(frozen=True, kw_only=True)
class ListedIngredient(Answer):
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
class ListedVersion(Answer):
    """A version of a dish."""

    version: str
    effective_from: date
    portions: float  # per batch
    target: float | None  # what a portion may cost, in the book's currency


@dataclass(frozen=True, kw_only=True)
class ListedDish(Answer):
    """A dish with its versions, the earliest first."""

    dish: str
    versions: tuple[ListedVersion, ...]


def list_ingredients(book: Book) -> list[ListedIngredient]:
    """Return every ingredient, by name."""
    with reading(book) as con:
        return ingredients_in(con)


def ingredients_in(con: Connection) -> list[ListedIngredient]:
    """`list_ingredients` in an open book."""
    found = rows(con, "contents/ingredients", {"currency": read_settings(con).currency})
    return [ListedIngredient(**row) for row in found]


def find_ingredient(con: Connection, name: str) -> ListedIngredient:
    """Return the ingredient called `name`. Raises UnknownName with the nearest names."""
    return find_ingredients(con, [name])[0]


def find_ingredients(con: Connection, names: Iterable[str]) -> list[ListedIngredient]:
    """Return the ingredients called so, by one reading of the table. Raises UnknownName."""
    known = {each.ingredient: each for each in ingredients_in(con)}
    by_key = {name_key(name): each for name, each in known.items()}
    return [by_key.get(name_key(name)) or find(name, known, kind="ingredient") for name in names]


def list_suppliers(book: Book) -> list[str]:
    """Return every supplier that a price names, as first written."""
    with reading(book) as con:
        return [row["supplier"] for row in rows(con, "contents/suppliers")]


def list_dishes(book: Book) -> list[ListedDish]:
    """Return every dish with its versions, by name."""
    found: dict[str, list[ListedVersion]] = {}
    with reading(book) as con:
        for row in rows(con, "dishes/recipe_versions", {"dishes": None, "dish_key": None}):
            found.setdefault(row["dish"], []).append(
                ListedVersion(
                    version=row["version"],
                    effective_from=row["effective_from"],
                    portions=row["portions"],
                    target=row["target"],
                )
            )
    return [ListedDish(dish=dish, versions=tuple(each)) for dish, each in found.items()]


def find_supplier(con: Connection, name: str) -> str:
    """Return the supplier's name as first written. Raises UnknownName with the nearest names."""
    known = {row["supplier"]: row["supplier"] for row in rows(con, "contents/suppliers")}
    return str(find(name, known, kind="supplier"))
