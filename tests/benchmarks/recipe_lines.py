"""Scores the reader of recipe lines on a file of labelled lines.

    python -m tests.benchmarks.recipe_lines [FILE] [--wrong]

The file's header says how it is scored. Where none is named, it is the one that the environment
variable PORTIONDRIFT_RECIPE_LINES names, else reference/recipe_lines.csv in the folder `shared`
beside the project. Printed are the shares of lines whose quantity, unit and ingredient were right;
`--wrong` lists the others. The exit status is 1 below the shares wanted.
"""

from __future__ import annotations

import argparse
import csv
import os
import re
import sys
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from ingest import RecipeLine, read_recipe_line
from pricing.reference.table import data_lines

WANTED = {"quantity": 0.97, "unit": 0.96, "item": 0.92}


@dataclass(kw_only=True)
class Score:
    """How many lines were read, and which were wrong, by question."""

    lines: int = 0
    wrong: dict[str, list[tuple[str, str, RecipeLine]]] = field(
        default_factory=lambda: {each: [] for each in WANTED}
    )

    def share(self, question: str) -> float:
        return 1 - len(self.wrong[question]) / self.lines


def default_file() -> Path:
    named = os.environ.get("PORTIONDRIFT_RECIPE_LINES")
    if named:
        return Path(named)
    return Path(__file__).parents[3] / "shared" / "reference" / "recipe_lines.csv"


def score(file: Path) -> Score:
    found = Score()
    for row in csv.DictReader(data_lines(file.read_text("utf-8"))):
        read = read_recipe_line(row["line"])
        quantity, unit = amount_right(row, read)
        found.lines += 1
        for question, right in (
            ("quantity", quantity),
            ("unit", unit),
            ("item", item_right(row, read)),
        ):
            if not right:
                label = ", ".join(
                    str(value) for key, value in row.items() if key != "line" and value
                )
                found.wrong[question].append((row["line"], label, read))
    return found


def amount_right(row: Mapping[str, str], read: RecipeLine) -> tuple[bool, bool]:
    """Tell whether the quantity is right, and the unit of the reading that was."""
    if not row["low"]:
        return read.quantity is None, read.unit is None
    units = []
    for low, high, unit in (("low", "high", "unit"), ("other_low", "other_high", "other_unit")):
        if row[low] and read.quantity is not None:
            least, most = 0.99 * float(row[low]), 1.01 * float(row[high])
            if least <= float(read.quantity) <= most:
                units.append(row[unit])
    return bool(units), read.unit in (units or [row["unit"]])


def item_right(row: Mapping[str, str], read: RecipeLine) -> bool:
    return _words(row["item"]) <= _words(read.item)


def _words(text: str) -> set[str]:
    return {_singular(word) for word in re.findall(r"[^\W_]+", text.lower())}


def _singular(word: str) -> str:
    for ending, singular in (
        ("ies", "y"),
        ("ves", "f"),
        ("oes", "o"),
        ("es", ""),
        ("e", ""),
        ("s", ""),
    ):
        if word.endswith(ending) and not word.endswith("ss") and len(word) > len(ending) + 2:
            return word[: -len(ending)] + singular
    return word


def main() -> int:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("file", nargs="?", type=Path, default=default_file())
    parser.add_argument("--wrong", action="store_true")
    asked = parser.parse_args()
    if not asked.file.is_file():
        parser.error(f"there is no file {asked.file}: name one")
    found = score(asked.file)
    if asked.wrong:
        for question, wrong in found.wrong.items():
            for line, label, read in wrong:
                print(f"{question}: {line}\n    label: {label}\n    read: {told(read)}")
    for question, wanted in WANTED.items():
        share = found.share(question)
        print(f"{question}: {share:.2%} of {found.lines} lines (wanted {wanted:.0%})")
    return int(any(found.share(each) < wanted for each, wanted in WANTED.items()))


def told(read: RecipeLine) -> str:
    amount = f"{read.quantity} to {read.high} {read.unit} of {read.pack_quantity} {read.pack_unit}"
    return f"{amount}, again {read.other} | {read.item} | {read.rest}"


if __name__ == "__main__":
    sys.exit(main())
