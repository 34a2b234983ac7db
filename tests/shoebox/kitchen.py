"""Takes an invented kitchen's shoebox into a book, by the commands that a user types."""

from __future__ import annotations

import csv
import shutil
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from tests.shoebox.make import make
from tests.terminal import answer, run

HERE = Path(__file__).parent
TABLES = ("wendlhuber.csv", "brenouse.csv", "plumley.csv")
# What the user says of a sender whose table does not name it; a $ is asked about.
TOLD: Mapping[str, tuple[str, ...]] = {
    "wendlhuber.csv": ("sender=Wendlhuber Markt",),
    "brenouse.csv": ("sender=Épicerie de Brenouse",),
    "plumley.csv": ("sender=Plumley & Quarn", "currency=USD"),
}
OTHERS = (
    "marchland.xlsx", "muehlbach.pdf", "oxlease_1.xml", "oxlease_2.xml", "oxlease_credit.xml",
    "till.txt",
)  # fmt: skip
Report = dict[str, Any]


@dataclass(kw_only=True)
class Shoebox:
    """A folder of files, the book they go into, and what came of each step."""

    folder: Path
    book: Path
    reports: dict[str, Report] = field(default_factory=dict)  # by the file's name in the folder
    trays: dict[str, list[Report]] = field(default_factory=dict)

    def load(self, kind: str, name: str, *told: str) -> Report:
        """Load one file, which must be taken."""
        report = self.reports[name] = self.loaded(kind, name, *told)
        assert report["problems"] == [], (name, report["problems"])
        return report

    def loaded(self, kind: str, name: str, *told: str, status: int = 0) -> Report:
        """Load one file and return its report."""
        answers = [each for one in told for each in ("--answer", one)]
        found = answer(
            "load", kind, str(self.folder / name), *answers, "--json", book=self.book, status=status
        )
        (report,) = found["files"]
        assert isinstance(report, dict)
        return report

    def tray(self) -> list[Report]:
        """Return what waits."""
        return list(answer("tray", "--json", book=self.book)["waiting"])

    def rows(self, name: str) -> list[dict[str, str]]:
        """Return the rows of a file of decisions as they were loaded."""
        return read_rows(self.folder / f"{name}.csv")

    def decide(self, month: str) -> int:
        """Write the tray, edit it as `decisions/` says, load it; return how many names were typed.

        All other names are taken as they are proposed.
        """
        self.trays[month] = self.tray()
        written = self.folder / f"{month}.csv"
        done = run("tray", "--write", str(written), book=self.book)
        assert done.returncode == 0, done.stderr
        edits = {row["words"]: row for row in read_rows(self.folder / "decisions" / f"{month}.csv")}
        typed = sum(row["ingredient"] != "" for row in edits.values())
        rows = read_rows(written)
        for row in rows:
            row.update({name: text for name, text in edits.pop(row["words"], {}).items() if text})
            assert row["ingredient"], row["words"]
        assert edits == {}, "edits of words that do not wait"
        with written.open("w", encoding="utf-8", newline="") as file:
            out = csv.DictWriter(file, rows[0])
            out.writeheader()
            out.writerows(rows)
        self.load("decisions", written.name)
        return typed


def read_rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def empty(folder: Path) -> Shoebox:
    """Return a folder with all files of both months, and a new book in euros."""
    for name in ("october", "november", "recipes", "decisions"):
        shutil.copytree(HERE / name, folder / name)
    shutil.copy(HERE / "measures.csv", folder)
    make(folder)
    box = Shoebox(folder=folder, book=folder / "kitchen.duckdb")
    done = run("init", "--currency", "EUR", "--measures", "metric", book=box.book)
    assert done.returncode == 0, done.stderr
    return box


def first_month(box: Shoebox) -> dict[str, int]:
    """Take October's prices, the recipes and the old costings; return what had to be typed."""
    for name in TABLES:
        box.load("prices", f"october/{name}", *TOLD[name])
    for name in OTHERS:
        box.load("prices", f"october/{name}")
    typed = {"prices": box.decide("prices")}
    box.load("measures", "measures.csv")
    for path in sorted((box.folder / "recipes").iterdir()):
        box.load("dishes", f"recipes/{path.name}")
    typed["recipes"] = box.decide("recipes")
    box.load("printed", "old_costings.ods")
    return typed


def second_month(box: Shoebox) -> None:
    """Take November's files: nobody is told anything."""
    for name in (*TABLES, *OTHERS):
        if name != "oxlease_credit.xml":
            box.load("prices", f"november/{name}")
