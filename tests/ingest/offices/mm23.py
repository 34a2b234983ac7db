"""Writes a file of the shape and size of the ONS dataset MM23; every value is invented."""

from __future__ import annotations

import csv
from pathlib import Path

from ingest.offices.facts.ladders import table_rows

_NAMES = ("JAN", "FEB", "MAR", "APR", "MAY", "JUN", "JUL", "AUG", "SEP", "OCT", "NOV", "DEC")
LAST = (2026, 8)


def path_of(column: int, step: int) -> float:
    """Return the invented value of a column after so many months: a steady rise of its own."""
    return 40.0 * (1 + 0.001 * (1 + column % 7)) ** step


def write_mm23(
    path: Path, columns: int = 4000, months: int = 450, released: str = "16-09-2026"
) -> Path:
    """Write the food ladder of the UK among columns of weights, rates and other indices."""
    ladder = list(table_rows("ladder_uk.csv"))
    titles = [f"CPI INDEX {row['coicop']} : {row['title'].upper()} 2015=100" for row in ladder]
    cdids = [row["key"] for row in ladder]
    for number in range(columns - len(ladder)):
        kind = (
            "CPI WEIGHTS 09.{}",
            "CPI ANNUAL RATE 09.{} 2015=100",
            "CPI INDEX 09.{} : OTHER 2015=100",
        )
        titles.append(kind[number % 3].format(number))
        cdids.append(f"Z{number:04X}")
    last = LAST[0] * 12 + LAST[1] - 1
    with path.open("w", encoding="utf-8", newline="") as file:
        out = csv.writer(file, quoting=csv.QUOTE_ALL, lineterminator="\n")
        out.writerow(["Title", *titles])
        out.writerow(["CDID", *cdids])
        out.writerow(["PreUnit", *[""] * columns])
        out.writerow(["Unit", *["Index, base year = 100"] * columns])
        out.writerow(["Release Date", *[released] * columns])
        out.writerow(["Next release", *["21 October 2026"] * columns])
        out.writerow(["Important Notes", *[""] * columns])
        for year in range((last - months + 1) // 12 + 1, LAST[0]):
            out.writerow([str(year), *["100.0"] * columns])
        for month in range(last - months + 1, last + 1):
            step = month - (last - months + 1)
            label = f"{month // 12} {_NAMES[month % 12]}"
            out.writerow([label, *[f"{path_of(place, step):.1f}" for place in range(columns)]])
    return path
