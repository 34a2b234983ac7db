"""What is in force in the book, and what its dishes cost, as pandas DataFrames."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from pricing.book.connect import Book, reading
from pricing.book.keeping.export import in_force
from pricing.days import Day
from pricing.dishes.on_a_day import cost_dishes

if TYPE_CHECKING:
    import pandas as pd


def prices_frame(book: Book) -> pd.DataFrame:
    """Return the prices in force, with the columns of a file of prices.

    In each of these frames dates are datetime64, amounts Decimal (exact, in a column of objects),
    all else text as first written; an empty cell is None, NaN or NaT. Raises BookUnreadable.
    """
    return _in_force(book, "prices")


def dishes_frame(book: Book) -> pd.DataFrame:
    """Return the lines of the dishes in force, with the columns of a file of dishes."""
    return _in_force(book, "dishes")


def ingredients_frame(book: Book) -> pd.DataFrame:
    """Return the ingredients in force, with the columns of a file of ingredients."""
    return _in_force(book, "ingredients")


def printed_frame(book: Book) -> pd.DataFrame:
    """Return the printed figures in force, with the columns of a file of printed figures."""
    return _in_force(book, "printed")


def cost_all(book: Book, *, on: Day) -> pd.DataFrame:
    """Return what a portion of each dish costs on a day, each in the version in force.

    Columns: dish, version, recipe_day (datetime64), cost_per_portion (float64, of the priced
    lines), currency, complete (bool: every line has a price), share_bridged (float64, of the cost
    that rests on moved prices; NaN where nothing is priced). Left out are drafts, and dishes that
    other dishes take and that were never printed. Raises what `cost_dishes` does.
    """
    import pandas as pd

    found = cost_dishes(book, on=on)
    columns = ("dish", "version", "recipe_day", "cost_per_portion", "complete", "share_bridged")
    rows = [[getattr(each, name) for name in columns] for each in found.dishes]
    frame = pd.DataFrame(rows, columns=list(columns))
    frame["recipe_day"] = pd.to_datetime(frame["recipe_day"])
    frame.insert(4, "currency", found.currency)
    return frame.astype({"cost_per_portion": float, "complete": bool, "share_bridged": float})


def _in_force(book: Book, name: str) -> pd.DataFrame:
    import pandas as pd

    with reading(book) as con:
        columns, rows = in_force(con, name)
        frame = pd.DataFrame(list(rows), columns=columns, dtype=object)
    for column in columns:
        filled = frame[column].dropna()
        if len(filled) and all(type(each) is date for each in filled):
            frame[column] = pd.to_datetime(frame[column])
    return frame
