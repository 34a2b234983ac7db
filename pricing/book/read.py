"""Asks the book questions: runs a named statement of queries/ and hands back its rows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

import duckdb

HALF_LIFE_DAYS = 180  # unless a book says otherwise
TOLERANCE_PCT = 5.0  # of the printed figure, unless a book says otherwise
SENTENCE = "A portion of {dish} costs about {cost} at prices of {month}."  # the same


@dataclass(frozen=True, kw_only=True)
class Settings:
    """What a book decides for itself."""

    currency: str  # ISO 4217
    measures: str  # metric, uk, us or au: how a bare cup or pint is read
    fresh_days: int  # a price seen within so many days counts as it is
    half_life_days: int  # an older price of a source counts half as much for every so many days
    market: str  # shop, trade or any: whose prices are asked for
    food_series: str | None  # food at home, for rebasing; it moves what has no series of its own
    all_items_series: str | None
    allergen_list: str  # eu or us: whose standard names of allergens are shown
    rate_per_hour: float | None  # of work, in the book's currency; None: work is not priced
    rounding: int = 1  # a printed figure is a multiple of so many minor units
    rounding_way: str = "nearest"  # or up
    pantry_counted: str = "yes"  # or no: whether printed figures hold what is marked pantry
    tolerance: float = TOLERANCE_PCT  # in % of a printed figure, within which it holds
    sentence: str = SENTENCE  # what is printed, with the names of fields in braces


@cache
def statement(name: str) -> str:
    """Return the text of queries/`name`.sql."""
    return resources.files("pricing.book").joinpath("queries", f"{name}.sql").read_text("utf-8")


def rows(
    con: duckdb.DuckDBPyConnection, name: str, parameters: Mapping[str, Any] | None = None
) -> list[dict[str, Any]]:
    """Run queries/`name`.sql and return its rows as dictionaries keyed by column."""
    return dictionaries(con, statement(name), parameters)


def dictionaries(
    con: duckdb.DuckDBPyConnection, text: str, parameters: Mapping[str, Any] | None = None
) -> list[dict[str, Any]]:
    """Run a statement and return its rows as dictionaries keyed by column."""
    result = con.execute(text, dict(parameters or {}))
    names = [column[0] for column in result.description or ()]
    return [dict(zip(names, row, strict=True)) for row in result.fetchall()]


def read_settings(con: duckdb.DuckDBPyConnection) -> Settings:
    """Return the settings of the open book."""
    stated = dict(con.execute("SELECT name, value FROM setting_now").fetchall())
    return Settings(
        currency=stated["currency"],
        measures=stated["measures"],
        fresh_days=int(stated["fresh_days"]),
        half_life_days=int(stated.get("half_life_days", HALF_LIFE_DAYS)),
        market=stated.get("market", "shop"),
        food_series=stated.get("food_series"),
        all_items_series=stated.get("all_items_series"),
        allergen_list=stated.get("allergen_list")
        or ("us" if stated["currency"] == "USD" else "eu"),
        rate_per_hour=float(stated["rate_per_hour"]) if "rate_per_hour" in stated else None,
        rounding=int(stated.get("rounding", 1)),
        rounding_way=stated.get("rounding_way", "nearest"),
        pantry_counted=stated.get("pantry_counted", "yes"),
        tolerance=float(stated.get("tolerance", TOLERANCE_PCT)),
        sentence=stated.get("sentence", SENTENCE),
    )


def columns(
    con: duckdb.DuckDBPyConnection, name: str, parameters: Mapping[str, Any] | None = None
) -> dict[str, Any]:
    """Run queries/`name`.sql and return its columns as (masked) numpy arrays."""
    result = con.execute(statement(name), dict(parameters or {}))
    found: dict[str, Any] = result.fetchnumpy()
    return found
