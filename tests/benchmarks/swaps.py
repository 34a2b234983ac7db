"""Times the swaps over a large catalogue, from a closed book file, beside a pandas merge.

    python -m tests.benchmarks.swaps [--prices N] [--ingredients N] [--dishes N] [--swaps N]
                                     [--repeats N] [--folder FOLDER]

The book is the invented one of synthetic_book.py, with random swaps. Every run opens the file, sums
what each swap saves over all dishes, and closes it; the first run does not count. The pandas script
is given what the book had to work out: each dish's quantities per portion and the day's prices. The
sums must agree to 1e-9 of their size, else the exit status is 1.
"""

from __future__ import annotations

import argparse
import os
import random
import sys
import tempfile
import time
from datetime import date
from pathlib import Path
from statistics import median

import numpy as np
import pandas as pd

from ingest.load import load_bytes
from pricing.book.connect import Book, reading
from pricing.dishes.matrix import read_catalogue
from pricing.prices.rule import Rule
from pricing.swaps.of_catalogue import CatalogueSwaps, catalogue_swaps
from pricing.swaps.saving import unit_prices
from tests.benchmarks.catalogue import TODAY
from tests.benchmarks.synthetic_book import Size, build

ON = date(2026, 10, 15)
TARGET_SECONDS = 2.0
SAME = 1e-9


def with_swaps(book: Book, many: int) -> None:
    """Load random swaps between ingredients of the book."""
    with reading(book) as con:
        names = [row[0] for row in con.execute("SELECT name FROM ingredient ORDER BY 1").fetchall()]
    chance = random.Random(20261124)
    pairs: dict[tuple[str, str], float] = {}
    while len(pairs) < many:
        one, other = chance.sample(names, 2)
        pairs[one, other] = round(chance.uniform(0.3, 1.5), 3)
    rows = [f"{one},{other},{ratio}" for (one, other), ratio in pairs.items()]
    text = "\n".join(["ingredient,substitute,ratio", *rows])
    report = load_bytes(book, "swaps", "swaps.csv", text.encode(), today=ON)
    assert not report.problems, report.problems[:3]


def frames(book: Book) -> tuple[pd.DataFrame, pd.DataFrame, pd.DataFrame]:
    """Return lines (dish, ingredient_id, quantity a batch), prices, and swaps."""
    with reading(book) as con:
        catalogue = read_catalogue(con, None)
        taken = catalogue.on(con, ON)
        ids = catalogue.ingredient_ids.tolist()
        swaps = con.execute(
            "SELECT ingredient_id, substitute_id, ratio::DOUBLE AS ratio FROM swap_now"
        ).df()
        wanted = sorted({*ids, *swaps["substitute_id"].tolist(), *swaps["ingredient_id"].tolist()})
        prices = unit_prices(con, Rule(currency="USD"), {(each, None) for each in wanted}, [ON])
    quantity = taken.quantities.tocoo()
    portions = catalogue.portions[taken.version]
    lines = pd.DataFrame(
        {
            "dish": quantity.coords[0],
            "ingredient_id": catalogue.ingredient_ids[quantity.coords[1]],
            "quantity": quantity.data * portions[quantity.coords[0]],
        }
    )
    priced = pd.DataFrame(
        {"id": [each for each, _ in prices], "price": [row[0] for row in prices.values()]}
    )
    return lines, priced, swaps


def by_pandas(lines: pd.DataFrame, prices: pd.DataFrame, swaps: pd.DataFrame) -> pd.Series:
    """Return (ingredient_id, substitute_id) → the sum of what the swap saves over all dishes."""
    each = swaps.merge(lines, on="ingredient_id")
    each = each.merge(prices.rename(columns={"id": "ingredient_id"}), on="ingredient_id")
    put = prices.rename(columns={"id": "substitute_id", "price": "put_price"})
    each = each.merge(put, on="substitute_id")
    each["saving"] = each["quantity"] * (each["price"] - each["ratio"] * each["put_price"])
    return each.groupby(["ingredient_id", "substitute_id"])["saving"].sum(min_count=1)


def differences(book: Book, found: CatalogueSwaps, expected: pd.Series) -> list[str]:
    """Return in words where the sums differ."""
    with reading(book) as con:
        ids = dict(con.execute("SELECT name, ingredient_id FROM ingredient").fetchall())
    told = {(ids[e.ingredient], ids[e.substitute]): e.saving for e in found.swaps}
    wrong = []
    for key, sum_ in expected.items():
        saving = told.get(key)  # type: ignore[call-overload]
        if np.isnan(sum_) != (saving is None) or (
            saving is not None and abs(saving - sum_) > SAME * max(1.0, abs(sum_))
        ):
            wrong.append(f"swap {key}: {saving}, not {sum_}")
    return wrong


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--prices", type=int, default=1_000_000)
    parser.add_argument("--ingredients", type=int, default=1_000)
    parser.add_argument("--dishes", type=int, default=10_000)
    parser.add_argument("--swaps", type=int, default=1_000)
    parser.add_argument("--repeats", type=int, default=5)
    parser.add_argument("--folder", type=Path, help="make the book here")
    asked = parser.parse_args()
    os.environ["PORTIONDRIFT_TODAY"] = TODAY
    with tempfile.TemporaryDirectory() as made:
        path = (asked.folder or Path(made)) / "swaps.duckdb"
        book = build(path, Size(prices=asked.prices, ingredients=asked.ingredients,
                                dishes=asked.dishes))  # fmt: skip
        with_swaps(book, asked.swaps)
        runs, found = [], None
        for turn in range(asked.repeats + 1):
            start = time.perf_counter()
            found = catalogue_swaps(book, on=ON)
            if turn:
                runs.append(time.perf_counter() - start)
        given = frames(book)
        merges = []
        for _ in range(asked.repeats):
            start = time.perf_counter()
            expected = by_pandas(*given)
            merges.append(time.perf_counter() - start)
        assert found is not None
        wrong = differences(book, found, expected)
    took, merged = median(runs), median(merges)
    print(
        f"{asked.swaps:,} swaps over {asked.dishes:,} dishes, {asked.ingredients:,} ingredients, "
        f"{asked.prices:,} prices: {took:.2f} s ({min(runs):.2f} to {max(runs):.2f}), at most "
        f"{TARGET_SECONDS:g} wanted, {'reached' if took <= TARGET_SECONDS else 'MISSED'}."
    )
    print(
        f"pandas, given quantities and prices: {merged:.2f} s for the merge alone, "
        f"{merged / took:.2f} times the whole."
    )
    print("\n".join(wrong[:10]) if wrong else f"The sums agree to {SAME:g}.")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
