"""Changes a setting of a book; the former value is kept by date."""

from __future__ import annotations

from pricing.book.append import write_settings
from pricing.book.connect import Book, writing
from pricing.errors import InputRefused
from pricing.indices import find_series

CHANGEABLE = ("fresh_days", "food_series", "all_items_series")
MOST_DAYS = 3660


def change_setting(book: Book, name: str, value: str) -> None:
    """Set `fresh_days` (whole days), `food_series` or `all_items_series` (a series of the book).

    Currency and measures stay as the book was made: what is stored was read by them.
    Raises InputRefused, UnknownName (a series that the book does not hold), BookUnreadable.
    """
    if name not in CHANGEABLE:
        raise InputRefused(
            f"Found the setting '{name}'; expected one of {', '.join(CHANGEABLE)}. Currency and "
            "measures are chosen when a book is made: make another book for another currency."
        )
    value = value.strip()
    if name == "fresh_days" and not (
        value.isascii() and value.isdigit() and int(value) <= MOST_DAYS
    ):
        raise InputRefused(
            f"Found fresh_days '{value}'; expected whole days from 0 to {MOST_DAYS}. A price seen "
            "within so many days counts as it is."
        )
    with writing(book) as con:
        if name != "fresh_days":
            find_series(con, value)
        write_settings(con, {name: value})
