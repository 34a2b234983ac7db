"""Times the whole loading of a foreign table beside our own format (invented values).

    python -m tests.benchmarks.loading_forms [REPEATS]

10,000 lines of a semicolon file with decimal commas, whose layout is kept and whose words are
decided, are loaded by `load_bytes` in turns with the same prices in our own columns, each into a
copy of one book.
"""

from __future__ import annotations

import csv
import io
import shutil
import sys
import tempfile
import time
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from statistics import median

from ingest.load import load_bytes
from pricing.book.connect import Book
from tests.benchmarks.tables import LINES, MOST_TIMES, TODAY
from tests.benchmarks.tables import rows as invented
from tests.kitchen import load, make_book

HEADINGS = ["Datum", "Bezeichnung", "Preis", "Inhalt", "Lieferant"]


def own_format() -> bytes:
    """Return the prices in our own columns."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(["ingredient", "date", "price", "currency", "pack", "supplier", "kind"])
    for day, words, price, pack, shop in _prices():
        writer.writerow([words, day.isoformat(), price, "EUR", pack, shop, "receipt"])
    return out.getvalue().encode()


def foreign(lines: int = LINES) -> bytes:
    """Return the first of the same prices as a sender would write them."""
    out = io.StringIO()
    writer = csv.writer(out, delimiter=";")
    writer.writerow(HEADINGS)
    for place, (day, words, price, pack, shop) in enumerate(_prices()):
        if place == lines:
            break
        said = f"ZRV {words.upper()}"
        writer.writerow([f"{day:%d.%m.%Y}", said, price.replace(".", ","), pack, shop])
    return out.getvalue().encode("cp1252")


def _prices() -> Iterator[tuple[date, str, str, str, str]]:
    for day, words, count, cents, shop in invented(LINES):
        yield day, words, f"{cents * count / 100:.2f}", f"{count}00 g", shop


def stocked(folder: Path) -> Book:
    """Return a book that knows the things, the layout and the words; it holds no price."""
    book = make_book(folder, currency="EUR", measures="metric", series=())
    things = sorted({words for _, words, *_ in _prices()})
    load(book, "ingredients", "ingredient,base\n" + "".join(f"{each},g\n" for each in things))
    decided = "".join(f",ZRV {each.upper()},{each}\n" for each in things)
    load(book, "decisions", "sender,words,ingredient\n" + decided)
    first = load_bytes(
        book, "prices", "first.csv", foreign(40), today=TODAY, told={"kind": "receipt"}
    )
    assert first.problems == (), [each.sentence() for each in first.problems]
    return book


def main(repeats: int) -> None:
    """Print the seconds of both, and end with status 1 where a table takes too long."""
    taken: dict[str, list[float]] = {"own": [], "table": []}
    data = {"own": own_format(), "table": foreign()}
    with tempfile.TemporaryDirectory() as folder:
        book = stocked(Path(folder) / "made")
        for _ in range(repeats):
            for form, content in data.items():
                copy = Path(folder) / "copy.duckdb"
                shutil.copyfile(book.path, copy)
                began = time.perf_counter()
                report = load_bytes(
                    Book(path=copy), "prices", "x.csv", content, today=TODAY, accept_unusual=True
                )
                taken[form].append(time.perf_counter() - began)
                assert (report.form, report.problems, report.waiting) == (form, (), 0)
                assert report.added + report.already == LINES
    own, table = (median(taken[form]) for form in ("own", "table"))
    print(f"{LINES:,} lines, whole load: own columns {own:.2f} s, a sender's table {table:.2f} s")
    print(f"ratio {table / own:.2f} (wanted: at most {MOST_TIMES:g})")
    sys.exit(table / own > MOST_TIMES)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5)
