"""Changes a setting of a book; the former value is kept by date."""

from __future__ import annotations

import re

from pricing.book.append import write_settings
from pricing.book.connect import Book, reading, writing
from pricing.book.derive import refresh_moved_prices
from pricing.book.read import Settings, read_settings
from pricing.contents.house_rules import STEPS, refuse_sentence
from pricing.contents.series import find_series
from pricing.errors import InputRefused

CHANGEABLE = (
    "fresh_days", "half_life_days", "market", "food_series", "all_items_series", "allergen_list",
    "rate_per_hour", "rounding", "rounding_way", "pantry_counted", "tolerance", "sentence",
)  # fmt: skip
OF_THE_PRICE_RULE = ("fresh_days", "half_life_days", "food_series")  # typical prices rest on them
MOST_DAYS = 3660
_LEAST_DAYS = {
    "fresh_days": (0, "A price seen within so many days counts as it is."),
    "half_life_days": (1, "A price counts half as much in the mean for every so many days of age."),
}
_CHOICES = {
    "market": {
        "shop": "shelf prices, receipts and offers",
        "trade": "invoices and quotes",
        "any": "both as one",
    },
    "allergen_list": {
        "eu": "the 14 of the European Union and the United Kingdom",
        "us": "the nine of the United States",
    },
    "rounding": {f"{step}": "of the smallest unit of the currency" for step in STEPS},
    "rounding_way": {"nearest": "half a step up", "up": "never under the cost"},
    "pantry_counted": {
        "yes": "printed figures hold the lines marked pantry",
        "no": "they do without them",
    },
}
MARKETS = tuple(_CHOICES["market"])
CHOICES = {name: tuple(choices) for name, choices in _CHOICES.items()}
_AMOUNT = re.compile(r"[0-9]{1,14}(\.[0-9]{1,4})?")


def change_setting(book: Book, name: str, value: str) -> None:
    """Set one of CHANGEABLE.

    `fresh_days` and `half_life_days` are whole days, `market` is one of MARKETS, `food_series` and
    `all_items_series` are series of the book, `allergen_list` is "eu" (Regulation (EU) No
    1169/2011, kept in UK law) or "us", `rate_per_hour` an amount of the book's currency for an hour
    of work; the house's rules of what it prints are `rounding` (to so many minor units),
    `rounding_way`, `pantry_counted`, `tolerance` (percent) and `sentence` (with fields in braces).
    Currency and measures stay as the book was made: what is stored was read by them.
    Raises InputRefused, UnknownName (a series that the book does not hold), BookUnreadable.
    """
    if name not in CHANGEABLE:
        raise InputRefused(
            f"Found the setting '{name}'; expected one of {', '.join(CHANGEABLE)}. Currency and "
            "measures are chosen when a book is made: make another book for another currency."
        )
    value = value.strip()
    _refuse_value(name, value)
    with writing(book) as con:
        if name.endswith("_series"):
            find_series(con, value)
        write_settings(con, {name: value})
        if name in OF_THE_PRICE_RULE:
            refresh_moved_prices(con)


def book_settings(book: Book) -> Settings:
    """Return the settings of a closed book."""
    with reading(book) as con:
        return read_settings(con)


def _refuse_value(name: str, value: str) -> None:
    """Raise InputRefused for what the setting cannot be; a series is looked up in the book."""
    if name in _LEAST_DAYS:
        least, what = _LEAST_DAYS[name]
        if not (value.isascii() and value.isdigit() and least <= int(value) <= MOST_DAYS):
            raise InputRefused(
                f"Found {name} '{value}'; expected whole days from {least} to {MOST_DAYS}. {what}"
            )
    if name == "rounding" and value not in _CHOICES[name]:
        raise InputRefused(
            f"Found rounding '{value}'; expected 1, 5, 10, 50 or 100: a printed figure is then a "
            "multiple of so many of the smallest units of the currency, such as cents."
        )
    if name in _CHOICES and value not in _CHOICES[name]:
        choices = " or ".join(f"{each} ({what})" for each, what in _CHOICES[name].items())
        raise InputRefused(f"Found {name} '{value}'; expected {choices}.")
    if name == "sentence":
        refuse_sentence(value)
    if name == "tolerance" and not (_AMOUNT.fullmatch(value) and float(value) <= 100):
        raise InputRefused(
            f"Found tolerance '{value}'; expected a percentage from 0 to 100, such as 5: a printed "
            "figure holds while the cost is not further from it."
        )
    if name == "rate_per_hour" and not (_AMOUNT.fullmatch(value) and float(value) > 0):
        raise InputRefused(
            f"Found rate_per_hour '{value}'; expected an amount over 0 for an hour of work, "
            "written like 18.50."
        )
