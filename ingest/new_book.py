"""Makes a new book: its settings, and the official series that come with the program."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Sequence
from importlib.resources import files
from pathlib import Path

from ingest.official.bundled import bundled_series, bundled_values
from pricing.book.append import BUNDLED, Cell, Source, append_batch, write_settings
from pricing.book.connect import Book, Connection, create, writing
from pricing.errors import InputRefused
from pricing.measures.read import SYSTEMS
from pricing.money import read_currency

FRESH_DAYS = 45  # a price seen within so many days counts as it is (design §4)
_US_SERIES = {"food_series": "us-bls:SAF11", "all_items_series": "us-bls:SA0"}


def create_book(path: str | os.PathLike[str], currency: str, measures: str = "metric") -> Book:
    """Make an empty book at `path` that holds the bundled official series, and return it.

    `currency` is an ISO 4217 code, `measures` one of metric, uk, us or au. Nothing is left behind
    when a step fails. Raises CurrencyRefused, InputRefused, and BookUnreadable when a file exists.
    """
    code = read_currency(currency)
    system = measures.strip().casefold()
    if system not in SYSTEMS:
        raise InputRefused(
            f"Found the measure system '{measures}'; expected one of {', '.join(SYSTEMS)}. "
            "It decides how a bare cup, pint or tablespoon is read."
        )
    book = create(path)
    try:
        with writing(book) as con:
            write_settings(
                con,
                {
                    "currency": code,
                    "measures": system,
                    "fresh_days": str(FRESH_DAYS),
                    **(_US_SERIES if code == "USD" else {}),
                },
            )
            _append_bundled(con)
    except BaseException:
        for leftover in (Path(path), Path(f"{os.fspath(path)}.wal")):
            leftover.unlink(missing_ok=True)
        raise
    return book


def _values_file() -> bytes:
    return files("ingest.official").joinpath("us_cpi_values.csv").read_bytes()


def _append_bundled(con: Connection) -> None:
    series = bundled_series()
    ids, months, values = bundled_values()
    described: dict[str, Sequence[Cell]] = {
        "series": [each.series for each in series],
        "title": [each.title for each in series],
        "parent": [each.parent for each in series],
        "classification": [each.classification for each in series],
        "seasonally_adjusted": [each.seasonally_adjusted for each in series],
    }
    figures: dict[str, Sequence[Cell]] = {"series": ids, "month": months, "value": values}
    source = Source(
        kind="index",
        file_name=BUNDLED,
        file_sha256=hashlib.sha256(_values_file()).hexdigest(),
        added=len(values),
        already=0,
    )
    append_batch(con, source, {"series_value": figures, "series": described})
