"""Makes the national table of bridging errors from the bundled US series, by the price rule itself.

Run from the project's top folder:

    python -m ingest.make_bridge_errors

Each food item still published stands for the price of one product, seen on the 15th of some months,
and is bridged by the next wider series (Butter by Butter and margarine). Every other month between
is held out. It writes `pricing/reference/bridge_errors.csv`.
"""

from __future__ import annotations

import csv
import itertools
import tempfile
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pricing.reference
from ingest.load import load_bytes
from ingest.new_book import create_book
from ingest.official.food_items import Index, food_items, indices
from pricing.book.connect import Book, reading
from pricing.book.read import read_settings
from pricing.prices.bridge_error import NATIONAL, GapErrors
from pricing.prices.half_inside import gap_errors
from pricing.prices.held_out import given_cases, held_out
from pricing.prices.rule import Rule

FIRST = 2006 * 12  # January 2006, months counted from year 0
DAY = 15

# Between two observations so many months apart every month is held out; from one observation alone
# the months at these distances. The lengths fall into the classes of EDGES, the last beyond them.
GAPS = (3, 6, 12, 24, 48, 96, 144)
DISTANCES = (2, 3, 5, 6, 9, 12, 18, 24, 36, 48, 72, 96, 120, 144)
ONE_EVERY = 12  # months between the single observations

HEAD = """\
How far a bridge was off the price it stood for: median absolute error in % of that price, by the
length of the gap, beside holding the last price and a straight line. The price rule itself, on 109
food items of the US consumer price index (BLS, public domain; January 2006 to {last}), each
bridged by the next wider series. An item's index is steadier than the price of one product in one
shop: expect more.
ends: two = between two observations (gap: months between them); one = from one alone (gap: months
since it). up_to_months: empty = longer. Made by: python -m ingest.make_bridge_errors.
"""


def cases(true: Index) -> Iterator[tuple[int, int, int | None]]:
    """Yield (month held out, month seen before, month seen after or None) for one item."""
    last = max(true)
    for gap in GAPS:
        seen = [month for month in range(FIRST, last + 1, gap) if month in true]
        for d0, d1 in itertools.pairwise(seen):
            yield from ((month, d0, d1) for month in range(d0 + 1, d1) if month in true)
    for d0 in range(FIRST, last + 1, ONE_EVERY):
        if d0 in true:
            yield from ((d0 + step, d0, None) for step in DISTANCES if d0 + step in true)


def day(month: int) -> date:
    return date(month // 12, month % 12 + 1, DAY)


def kitchen_of(folder: Path, by_series: dict[str, Index], items: dict[str, str]) -> Book:
    """Make a book in which every item is an ingredient, priced at its index on each 15th."""
    book = create_book(folder / "national.duckdb", "USD", "us")
    ingredients = ["ingredient,base,series", *(f"{each},each,{up}" for each, up in items.items())]
    prices = ["ingredient,date,price,currency,pack"]
    prices += [
        f"{each},{day(month)},{value},USD,1 each"
        for each in items
        for month, value in by_series[each].items()
        if month >= FIRST
    ]
    today = day(max(by_series["us-bls:SA0"]) + 1)
    for kind, lines in (("ingredients", ingredients), ("prices", prices)):
        data = "\n".join(lines).encode()
        report = load_bytes(book, kind, kind, data, today=today, accept_unusual=True)
        if report.problems:
            raise SystemExit(report.problems[0].sentence())
    return book


def table() -> list[GapErrors]:
    """Return the rows of the national table."""
    by_series = indices()
    items = food_items(by_series)
    with tempfile.TemporaryDirectory() as folder:
        book = kitchen_of(Path(folder), by_series, items)
        with reading(book) as con:
            ids = dict(con.execute("SELECT name, ingredient_id FROM ingredient").fetchall())
            laid = [
                (ids[item], day(month), day(d0), None if d1 is None else day(d1), index[month])
                for item in items
                for index in [by_series[item]]
                for month, d0, d1 in cases(index)
            ]
            names = ("ingredient_id", "on_date", "d0", "d1", "truth")
            given_cases(con, dict(zip(names, zip(*laid, strict=True), strict=True)))
            return gap_errors(held_out(con, Rule.of(read_settings(con))))


def main() -> None:
    """Write the table."""
    columns = ("ends", "up_to_months", "cases", "bridge_pct", "hold_pct", "line_pct")
    (reference,) = pricing.reference.__path__
    with (Path(reference) / NATIONAL).open("w", encoding="utf-8", newline="") as file:
        last = day(max(indices()["us-bls:SAF1"]))
        for line in HEAD.format(last=f"{last:%B %Y}").splitlines():
            file.write(f"# {line}\n")
        out = csv.writer(file, lineterminator="\n")
        out.writerow(columns)
        for row in table():
            values = [(name, getattr(row, name)) for name in columns]
            cells = [f"{value:.2f}" if name.endswith("pct") else value for name, value in values]
            out.writerow(["" if cell is None else cell for cell in cells])


if __name__ == "__main__":
    main()
