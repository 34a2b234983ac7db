"""What a dish of the demo costs by tests/oracle.py, from the prices of its files."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from functools import cache

import pricing
from ingest.official.bundled import bundled_series, bundled_values
from pricing.book.connect import Book, reading
from tests import oracle

FOOD = "us-bls:SAF11"  # the food series of a book in US dollars


@cache
def bundled_months() -> dict[str, dict[tuple[int, int], float]]:
    """Return series → (year, month) → value."""
    found: dict[str, dict[tuple[int, int], float]] = {}
    for name, month, value in zip(*bundled_values(), strict=True):
        found.setdefault(name, {})[month.year, month.month] = value
    return found


def ladder(series: str | None) -> list[tuple[str, oracle.Months]]:
    """Return a series, those above it, and the food series with those above it."""
    above = {each.series: each.parent for each in bundled_series()}
    names: list[str] = []
    for start in (series, FOOD):
        name = start
        while name is not None:
            if name not in names:
                names.append(name)
            name = above[name]
    return [(name, bundled_months()[name]) for name in names]


def prices(demo: Book, names: Iterable[str], day: date) -> dict[str, oracle.Priced]:
    """Return the price of ingredients by the slow rule."""
    with reading(demo) as con:
        seen = con.execute(
            "SELECT ingredient, observed_on, unit_price, coalesce(supplier, ''), "
            "coalesce(product, ''), kind FROM observation_priced WHERE kind <> 'offer'"
        ).fetchall()
        series = dict(con.execute("SELECT name, series FROM ingredient_now").fetchall())
    return {
        name: oracle.price_on(
            [
                oracle.Seen(day=on, unit_price=price, supplier=shop, product=product, kind=kind)
                for ingredient, on, price, shop, product, kind in seen
                if ingredient == name
            ],
            day,
            ladder(series[name]),
        )
        for name in names
    }


def cost(demo: Book, dish: str, day: date, version: str | None = None) -> float:
    """Return the cost of a portion: the amounts of the recipe at the prices of the slow rule."""
    costing = pricing.cost_dish(demo, dish, on=day, version=version)
    amounts = [(line.ingredient, line.as_purchased or 0.0) for line in costing.ingredient_lines()]
    by_name = prices(demo, {name for name, _ in amounts}, day)
    batch = sum(amount * (by_name[name].unit_price or 0.0) for name, amount in amounts)
    return batch / costing.portions
