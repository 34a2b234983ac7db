"""The printed figures that the book holds."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from pricing.answer import Answer
from pricing.book.connect import Book, reading
from pricing.book.read import rows


@dataclass(frozen=True, kw_only=True)
class PrintedFigure(Answer):
    """One printed cost per portion."""

    dish: str
    version: str
    published_on: date  # may lie ahead: the issue is not out yet
    costed_on: date  # the day whose prices and sub-recipes it rests on
    cost_per_portion: float  # as printed, in `currency`
    as_printed: str | None  # where the words say more than the number: "about 3.50"
    currency: str
    published_where: str | None
    note: str | None


def list_printed(book: Book) -> list[PrintedFigure]:
    """Return every printed figure in force, by dish, then date."""
    with reading(book) as con:
        return [PrintedFigure(**row) for row in rows(con, "contents/printed")]


def first_printed(figures: Iterable[PrintedFigure]) -> dict[str, PrintedFigure]:
    """Return the first printed figure of each dish that has one, by dish."""
    first: dict[str, PrintedFigure] = {}
    for figure in figures:
        first.setdefault(figure.dish, figure)
    return first


def printed_recipe_day(
    figures: Iterable[PrintedFigure], dish: str, costed_on: date, version: str
) -> date | None:
    """Return the recipe day of a printed figure; None where none was costed so.

    A printed figure is costed with the sub-recipes of the day it was costed for, whether or not its
    version was in force then.
    """
    told = (dish, costed_on, version)
    if any((each.dish, each.costed_on, each.version) == told for each in figures):
        return costed_on
    return None
