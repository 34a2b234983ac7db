"""Each layout of each office is known by exactly one reader, and read into the table beside it."""

from __future__ import annotations

import csv
from datetime import date
from pathlib import Path

import pytest

from ingest.offices.reading.source import Source
from ingest.offices.taking.office_file import read_office
from ingest.offices.taking.recognise import READERS, readers_of
from tests.kitchen import TODAY

FOLDER = Path(__file__).parent / "specimens"
SPECIMENS = sorted(
    path for path in FOLDER.iterdir() if path.suffix != ".md" and ".expected" not in path.name
)
NAMED = {"two_columns": ((("own:FOODX"),), "Food, somewhere (2020=100)")}  # what a user would say
READER = {
    "eurostat_dense": "JSON-stat", "eurostat_sparse": "JSON-stat", "pxweb": "JSON-stat",
    "pxstat": "JSON-stat", "ons_single": "ONS", "mm23_small": "ONS", "ons_json": "ONS",
    "bls_api": "BLS", "bls_flat": "BLS", "statcan_table": "Statistics Canada",
    "statcan_vectors": "Statistics Canada", "two_columns": "two columns",
}  # fmt: skip


def expected(path: Path) -> list[dict[str, str]]:
    with path.with_suffix("").with_suffix(".expected.csv").open(encoding="utf-8") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("path", SPECIMENS, ids=lambda path: path.name)
def test_exactly_one_reader_knows_the_file(path: Path) -> None:
    names = [reader.NAME for reader in readers_of(Source(name=path.name, path=path).head)]
    assert names == [READER.get(path.stem, "SDMX-CSV")]


@pytest.mark.parametrize("path", SPECIMENS, ids=lambda path: path.name)
def test_a_specimen_gives_the_table_beside_it(path: Path) -> None:
    wanted, title = NAMED.get(path.stem, ((), None))
    found = read_office(Source(name=path.name, path=path), TODAY, wanted, title)
    assert found.problems == ()
    table = [
        {
            "series": each.series,
            "month": f"{month:%Y-%m}",
            "value": repr(value),
            "title": each.title or "",
            "base_label": each.base_label or "",
            "frequency": each.frequency,
            "released_on": each.released_on.isoformat() if each.released_on else "",
            "line": str(line),
        }
        for each in found.series
        for month, value, line, _ in each.values()
    ]
    assert table == expected(path)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{}",
        "[]",
        "<html><body>Page not found</body></html>",
        "series,month,value\nx,2020-01,100\n",
        "ingredient,date,price\nleek,2020-01-01,1\n",
        "You have exceeded the number of requests, please try again later.",
        "Year,Jan,Feb\n2020,100.1,100.2\n",
    ],
)
def test_no_reader_takes_what_is_no_index_file(text: str) -> None:
    assert readers_of(text) == []


def test_every_reader_has_a_specimen() -> None:
    assert {reader.NAME for reader in READERS} == {*READER.values(), "SDMX-CSV"}


def test_the_value_as_published_is_kept_beside_the_number() -> None:
    path = FOLDER / "semicolons.csv"
    (series,) = read_office(Source(name=path.name, path=path), TODAY).series
    assert series.values()[0] == (date(2026, 7, 1), 102.35, 2, "102,35")
