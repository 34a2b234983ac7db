"""Times how soon a price logged by hand counts in a costing of a large book.

    python -m tests.benchmarks.new_price [--prices N] [--ingredients N] [--dishes N] [--repeats N]

The book is the invented one of synthetic_book.py. Prices of several ingredients are logged one
after the other, each a hundredth dearer than the costing of its day, and a dish that takes the
ingredient is costed after each. Printed are medians, by the clock and of all processors: the
derivation of the kept prices alone, which is what stands between storing a row and its counting;
all of the logging, with its checks, digests and commit; the costing. The costing must have changed,
else the exit status is 1.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from datetime import date
from pathlib import Path
from statistics import median
from typing import Any
from unittest.mock import patch

import pricing
from ingest.by_hand import add_price
from pricing.book import append
from pricing.book.connect import Book, reading
from pricing.book.derive import refresh_prices
from tests.benchmarks.synthetic_book import Size, build

ON = date(2026, 10, 15)
TARGET_MS = 50


class Clock:
    """Collects the milliseconds of a step, by the clock and of all processors."""

    def __init__(self) -> None:
        self.runs: list[tuple[float, float]] = []

    def timed(self, step: Callable[..., Any]) -> Callable[..., Any]:
        def run(*args: Any, **kwargs: Any) -> Any:
            start, work = time.perf_counter(), time.process_time()
            found = step(*args, **kwargs)
            spent = time.perf_counter() - start, time.process_time() - work
            self.runs.append((1000 * spent[0], 1000 * spent[1]))
            return found

        return run

    def told(self, what: str) -> str:
        wall, work = (median(each) for each in zip(*self.runs[1:], strict=True))
        return f"{what}: {wall:.0f} ms ({work:.0f} ms of the processors)"


def asked(book: Book, many: int) -> list[tuple[str, str, str]]:
    """Return ingredients with their base and a dish in force that takes each."""
    with reading(book) as con:
        return con.execute(
            "SELECT any_value(i.name), any_value(f.base), min(d.name) FROM ingredient i "
            "JOIN ingredient_now f USING (ingredient_id) "
            "JOIN dish_line l USING (ingredient_id) "
            "JOIN dish_version v ON v.row_id = l.version_row "
            "JOIN dish d USING (dish_id) WHERE v.version = '1' AND v.effective_from <= $on "
            "AND dish_id NOT IN (SELECT dish_id FROM dish_version WHERE version = '2') "
            "AND ingredient_id IN (SELECT ingredient_id FROM typical_day "
            "WHERE observed_on > $on - 30) "
            "GROUP BY ingredient_id ORDER BY ingredient_id LIMIT $many",
            {"on": ON, "many": many},
        ).fetchall()


def main() -> int:
    """Print the medians; return the exit status."""
    parser = argparse.ArgumentParser(description=__doc__)
    for name, value in (("prices", 5_000_000), ("ingredients", 1000), ("dishes", 10_000)):
        parser.add_argument(f"--{name}", type=int, default=value)
    parser.add_argument("--repeats", type=int, default=15)
    parser.add_argument("--book", type=Path, help="a book that was built before")
    told = parser.parse_args()
    folder: AbstractContextManager[str] = (
        nullcontext("") if told.book else tempfile.TemporaryDirectory()
    )
    derived, logged, costed = Clock(), Clock(), Clock()
    same = 0
    with folder as place:
        book = (
            Book(path=told.book)
            if told.book
            else build(
                Path(place) / "large.duckdb",
                Size(prices=told.prices, ingredients=told.ingredients, dishes=told.dishes),
            )
        )
        for ingredient, base, dish in asked(book, told.repeats + 1):
            before = pricing.cost_dish(book, dish, on=ON)
            unit = next(
                line.unit_price
                for line in before.ingredient_lines()
                if line.ingredient == ingredient
            )
            price = {
                "ingredient": ingredient, "date": ON.isoformat(), "currency": "USD",
                "price": f"{(unit or 0.01) * 100 * 1.01:.4f}", "pack": f"100 {base}",
                "supplier": "Capstan Yard",
            }  # fmt: skip
            with patch.object(append, "refresh_prices", derived.timed(refresh_prices)):
                report = logged.timed(add_price)(book, price, today=ON)
            if report.problems:
                print(report.problems[0].sentence())
                return 1
            after = costed.timed(pricing.cost_dish)(book, dish, on=ON)
            same += after.cost_per_portion == before.cost_per_portion
    print(f"{told.prices:,} prices; medians of {len(logged.runs) - 1} prices logged by hand")
    print(derived.told(f"kept prices derived anew (wanted: {TARGET_MS} ms)"))
    print(logged.told("logged, with its checks, digests and commit"))
    print(costed.told("costed after it"))
    if same:
        print(f"{same} costings did not change.")
    return 1 if same else 0


if __name__ == "__main__":
    sys.exit(main())
