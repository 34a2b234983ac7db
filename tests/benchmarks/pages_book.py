"""The large book of the pages' benchmark: synthetic_book.py, and what only pages ask of a book.

Three of four dishes have a printed figure, one of ten of these a second one; and there are swaps
between ingredients that are measured alike.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from pathlib import Path

import numpy as np

from ingest.load import load_bytes
from pricing.book.connect import Book
from pricing.clock import today
from pricing.contents.choices import list_ingredients
from tests.benchmarks.synthetic_book import SEED, Size, build

SIZE = Size(prices=300_000, ingredients=400, dishes=1_000)
SWAPS = 300
_FIRST = date(2013, 3, 1)


def make_large(path: Path) -> Book:
    """Make the book at `path`."""
    book = build(path, SIZE)
    chance = np.random.default_rng(SEED + 1)
    _load(book, "swaps", "ingredient,substitute,ratio", _swaps(book, chance))
    printed = "dish,version,published_on,cost_per_portion,currency"
    _load(book, "printed", printed, _printed(chance))
    return book


def _load(book: Book, kind: str, columns: str, lines: Iterable[str]) -> None:
    data = "\n".join([columns, *lines, ""]).encode()
    report = load_bytes(book, kind, f"{kind}.csv", data, today=today())
    assert not report.problems, report.problems[:3]


def _swaps(book: Book, chance: np.random.Generator) -> Iterable[str]:
    known = [(each.ingredient, each.base) for each in list_ingredients(book)]
    alike: dict[str, list[str]] = {}
    for name, base in known:
        alike.setdefault(base, []).append(name)
    found: set[tuple[str, str]] = set()
    while len(found) < SWAPS:
        name, base = known[int(chance.integers(len(known)))]
        other = alike[base][int(chance.integers(len(alike[base])))]
        if other != name:
            found.add((name, other))
    return [f"{one},{other},1" for one, other in sorted(found)]


def _printed(chance: np.random.Generator) -> Iterable[str]:
    for number in range(1, SIZE.dishes + 1):
        if chance.random() < 0.75:
            for _ in range(2 if chance.random() < 0.1 else 1):
                on = _FIRST + timedelta(days=int(chance.integers(0, 4_000)))
                amount = chance.uniform(1.0, 9.0)
                yield f"Dish {number:05d},1,{on.isoformat()},{amount:.2f},USD"
