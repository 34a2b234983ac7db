"""A flat file as BLS lays it out, filled from the package `cpi`, gives the bundled series again."""

from __future__ import annotations

import sqlite3

import pytest

from ingest.offices.reading.source import Source
from ingest.offices.taking.office_file import read_office
from ingest.official.bundled import bundled_values
from tests.kitchen import TODAY
from tests.outside.test_bundled_us_cpi import database

__all__ = ["database"]

# all items, food at home, eggs, one with holes (roasted coffee), one that ended (lamb)
ITEMS = ("SA0", "SAF11", "SEFH", "SS17031", "SS05015")


@pytest.mark.wheel
def test_a_bls_flat_file_is_read_as_the_bundled_series(database: sqlite3.Connection) -> None:
    lines = ["series_id                     \tyear\tperiod\t       value\tfootnote_codes"]
    for item in ITEMS:
        for year, period, value in database.execute(
            "SELECT year, period, value FROM indexes WHERE series = ? ORDER BY year, period",
            (f"CUUR0000{item}",),
        ):  # months, and the means of years and half-years that must not come along
            lines.append(f"{'CUUR0000' + item:<30}\t{year}\t{period}\t{value:>12}\t")
    source = Source(name="cu.data", data="\n".join([*lines, ""]).encode())
    found = read_office(source, TODAY)
    assert found.problems == ()

    ours = {
        (each.series, month): value for each in found.series for month, value, *_ in each.values()
    }
    bundled = {
        (series, month): value
        for series, month, value in zip(*bundled_values(), strict=True)
        if series.removeprefix("us-bls:") in ITEMS
    }
    assert ours == bundled
    assert sum(each.years for each in found.series) > 100  # means of years were there to leave out
