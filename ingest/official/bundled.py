"""Reads the bundled official series: what they are and every monthly value."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from importlib.resources import files
from itertools import compress

from pricing.reference.table import data_lines

SOURCE = (
    "U.S. Bureau of Labor Statistics, CPI-U, U.S. city average, not seasonally adjusted, "
    "monthly to August 2026 (public domain; BLS database as carried by the Python package "
    "cpi 2.1.0, made on 2026-09-24)."
)

_PREFIX = "us-bls:"


@dataclass(frozen=True, kw_only=True)
class BundledSeries:
    """One official series that comes with the program."""

    series: str  # e.g. us-bls:SEFC01
    title: str  # e.g. Uncooked ground beef, US city average
    parent: str | None  # id of the next wider series; None for all items
    classification: str
    seasonally_adjusted: bool


def _rows(name: str) -> Iterator[list[str]]:
    """Yield the header, then the rows of one table in this folder; `#` lines are comments."""
    text = files(__package__).joinpath(name).read_text(encoding="utf-8")
    return csv.reader(data_lines(text))


def bundled_series() -> list[BundledSeries]:
    """Return every bundled series, in the office's own order (a parent stands before its children).

    Source: `us_cpi_series.csv`, made by `ingest.official.make_us_cpi`.
    """
    rows = _rows("us_cpi_series.csv")
    columns = next(rows)
    return [
        BundledSeries(
            series=field["series"],
            title=field["title"],
            parent=field["parent"] or None,
            classification=field["classification"],
            seasonally_adjusted=field["seasonally_adjusted"] == "yes",
        )
        for field in (dict(zip(columns, row, strict=True)) for row in rows)
    ]


def bundled_values() -> tuple[list[str], list[date], list[float]]:
    """Return three columns of equal length: series id, first day of the month, index value.

    Ordered by series id, then month. A month the office did not publish has no entry, so October
    2025 is absent. Index values have no unit; only ratios inside one series mean something.

    Source: `us_cpi_values.csv`, made by `ingest.official.make_us_cpi`.
    """
    rows = _rows("us_cpi_values.csv")
    items = next(rows)[1:]
    table = list(rows)
    months = [date(int(row[0][:4]), int(row[0][5:7]), 1) for row in table]
    by_item = dict(zip(items, list(zip(*table, strict=True))[1:], strict=True))
    series: list[str] = []
    at: list[date] = []
    values: list[float] = []
    for item in sorted(by_item):
        cells = by_item[item]  # an empty cell is a month without a value
        values += map(float, filter(None, cells))
        at += compress(months, cells)
        series += [_PREFIX + item] * (len(values) - len(series))
    return series, at, values
