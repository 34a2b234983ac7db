"""Times tables of a known layout beside our own format, and a large workbook (invented values).

    python -m tests.benchmarks.tables [REPEATS]

10,000 lines of a semicolon file with decimal commas are read by a layout that is kept, in turns
with equal data in our own columns. 100,000 rows as XLSX, CSV and ODS are each read in a process of
its own, so that its memory is its own.
"""

from __future__ import annotations

import csv
import io
import os
import random
import resource
import subprocess
import sys
import tempfile
import time
import zipfile
from collections.abc import Callable
from datetime import date
from pathlib import Path
from statistics import median

import openpyxl

from ingest.tables.price_lines import lines_of_table
from ingest.tables.propose import propose
from ingest.tables.read import read_grids
from ingest.text.read_file import ReadFile, read_file
from pricing.errors import Problem

LINES, ROWS = 10_000, 100_000
MOST_TIMES, MOST_SECONDS, MOST_MEGABYTES = 2.0, 5.0, 400.0
TODAY = date(2026, 11, 24)
HEADINGS = ["Datum", "Bezeichnung", "Menge", "Einheit", "Einzelpreis (EUR)", "Gesamt", "Lieferant"]


def rows(number: int) -> list[tuple[date, str, int, int, str]]:
    """Return (day, words, count, cents each, shop) of invented lines."""
    chance = random.Random(7)
    return [
        (
            date(2026, 1 + line % 9, 1 + line % 28),
            f"thing {line % 400}",
            chance.randint(1, 5),
            chance.randint(50, 2000),
            f"shop {line % 5}",
        )
        for line in range(number)
    ]


def own_format() -> bytes:
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(["ingredient", "date", "price", "currency", "pack", "supplier", "kind"])
    for day, words, count, cents, shop in rows(LINES):
        price = f"{cents * count / 100:.2f}"
        writer.writerow([words, day.isoformat(), price, "EUR", f"{count} each", shop, "receipt"])
    return out.getvalue().encode()


def foreign() -> bytes:
    out = io.StringIO()
    writer = csv.writer(out, delimiter=";")
    writer.writerow(HEADINGS)
    for day, words, count, cents, shop in rows(LINES):
        each, total = (f"{n / 100:.2f}".replace(".", ",") for n in (cents, cents * count))
        writer.writerow([f"{day:%d.%m.%Y}", words, count, "Stk", each, total, shop])
    return out.getvalue().encode("cp1252")


def workbook(path: Path) -> None:
    book = openpyxl.Workbook(write_only=True)
    sheet = book.create_sheet("Einkauf")
    sheet.append(HEADINGS)
    for day, words, count, cents, shop in rows(ROWS):
        sheet.append([day, words, count, "Stk", cents / 100, cents * count / 100, shop])
    book.save(path)


def large_csv(path: Path) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, delimiter=";")
        writer.writerow(HEADINGS)
        for day, words, count, cents, shop in rows(ROWS):
            each, total = (f"{n / 100:.2f}".replace(".", ",") for n in (cents, cents * count))
            writer.writerow([f"{day:%d.%m.%Y}", words, count, "Stk", each, total, shop])


def large_ods(path: Path) -> None:
    """Write the parts of an ODS that hold its cells; whole libraries take minutes for it."""
    spaces = ["office", "table", "text"]
    names = " ".join(
        f'xmlns:{each}="urn:oasis:names:tc:opendocument:xmlns:{each}:1.0"' for each in spaces
    )
    cell = '<table:table-cell office:value-type="{}"{}><text:p>{}</text:p></table:table-cell>'

    def text(value: object) -> str:
        return cell.format("string", "", value)

    def number(value: float) -> str:
        return cell.format("float", f' office:value="{value}"', value)

    made = ["".join(map(text, HEADINGS))]
    for day, words, count, cents, shop in rows(ROWS):
        on = cell.format("date", f' office:date-value="{day}"', day)
        total = cents * count / 100
        held = (on, text(words), number(count), text("Stk"), number(cents / 100), number(total))
        made.append("".join((*held, text(shop))))
    body = "".join(f"<table:table-row>{each}</table:table-row>" for each in made)
    mime = "application/vnd.oasis.opendocument.spreadsheet"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as file:
        file.writestr("mimetype", mime, zipfile.ZIP_STORED)
        file.writestr(
            "META-INF/manifest.xml",
            '<manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"'
            f'><manifest:file-entry manifest:full-path="/" manifest:media-type="{mime}"/>'
            '<manifest:file-entry manifest:full-path="content.xml" '
            'manifest:media-type="text/xml"/></manifest:manifest>',
        )
        file.writestr(
            "content.xml",
            f'<?xml version="1.0"?><office:document-content {names}><office:body>'
            f'<office:spreadsheet><table:table table:name="Einkauf">{body}</table:table>'
            "</office:spreadsheet></office:body></office:document-content>",
        )


def read_table(data: bytes) -> int:
    """Read a table, proposing its layout; return how many lines it has."""
    grids = read_grids(data)
    assert not isinstance(grids[0], Problem)
    proposal = propose(
        grids, kind="prices", today=TODAY, currency="EUR", saved={}, told={"kind": "receipt"}
    )
    assert proposal.sure, proposal.questions
    read = lines_of_table(proposal.table, proposal.layout)
    assert not read.problems
    return len(read.lines)


def seconds_of_csv(repeats: int) -> tuple[float, float]:
    own, table = own_format(), foreign()
    first = propose(
        read_grids(table), kind="prices", today=TODAY, currency="EUR", saved={},
        told={"kind": "receipt"},
    )  # fmt: skip
    assert first.sure, first.questions
    saved = {first.layout.fingerprint: first.layout}
    taken: tuple[list[float], list[float]] = ([], [])
    for _ in range(repeats):
        start = time.perf_counter()
        read = read_file("prices", own)
        taken[0].append(time.perf_counter() - start)
        assert isinstance(read, ReadFile)
        assert len(read.rows) == LINES
        start = time.perf_counter()
        again = propose(
            read_grids(table), kind="prices", today=TODAY, currency="EUR", saved=saved, told={}
        )
        lines = lines_of_table(again.table, again.layout)
        taken[1].append(time.perf_counter() - start)
        assert again.known
        assert len(lines.lines) == LINES
        assert not lines.problems
    return median(taken[0]), median(taken[1])


def main(repeats: int) -> None:
    own, table = seconds_of_csv(repeats)
    print(f"{LINES:,} lines: own format {own:.3f} s, kept layout {table:.3f} s, "
          f"{table / own:.2f} times (at most {MOST_TIMES})")  # fmt: skip
    measured = [
        of_large_file(make, name)
        for make, name in (
            (workbook, "large.xlsx"),
            (large_csv, "large.csv"),
            (large_ods, "large.ods"),
        )
    ]
    assert table / own <= MOST_TIMES
    assert measured[0][0] <= MOST_SECONDS
    assert max(megabytes for _, megabytes in measured) <= MOST_MEGABYTES


def of_large_file(make: Callable[[Path], None], name: str) -> tuple[float, float]:
    """Print and return the seconds and megabytes that reading a large file takes."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / name
        make(path)
        command = [sys.executable, "-m", "tests.benchmarks.tables", "--read", os.fspath(path)]
        done = subprocess.run(command, capture_output=True, text=True, check=True)
    taken, megabytes = map(float, done.stdout.split())
    print(f"{name}, {ROWS:,} rows: {taken:.2f} s, "
          f"{megabytes:.0f} MB (at most {MOST_MEGABYTES:.0f})")  # fmt: skip
    return taken, megabytes


def read_and_say(path: str) -> None:
    """Print seconds and megabytes that reading a workbook takes."""
    data = Path(path).read_bytes()
    start = time.perf_counter()
    assert read_table(data) == ROWS
    taken = time.perf_counter() - start
    print(taken, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)


if __name__ == "__main__":
    if sys.argv[1:2] == ["--read"]:
        read_and_say(sys.argv[2])
    else:
        main(int(sys.argv[1]) if len(sys.argv) > 1 else 5)
