"""What holds of every shop, on random small books, and that it buys what trying everything buys."""

from __future__ import annotations

import random
import statistics
from collections import defaultdict
from datetime import date, timedelta
from pathlib import Path

import pytest

from pricing.book.connect import Book, reading
from pricing.till.records import Till
from pricing.till.shop import shop_for
from tests.kitchen import make_book
from tests.pricing.till.test_packs import every_purchase

ON = date(2026, 11, 24)
FRESH = 45  # days, the book's own setting
NAMES = [f"i{n}" for n in range(6)]
DISHES = [f"d{n}" for n in range(6)]
Row = tuple[str, date, float, int, str]  # ingredient, day, price, size in g, supplier


def random_prices(rng: random.Random, *, one_pack: bool) -> list[Row]:
    made = set()
    for name in NAMES:
        sizes = rng.sample([100, 200, 250, 400, 500, 750, 1000], 1 if one_pack else 3)
        ages = rng.choice([(3, 20, 44, 45, 46, 60, 300), (46, 60, 76, 300)])
        for _ in range(1 if one_pack else rng.randrange(1, 10)):
            age = rng.choice(ages)
            supplier = "Quay" if one_pack else rng.choice(["Quay", "Mill", ""])
            price = round(rng.uniform(0.5, 6), 2)
            made.add((name, ON - timedelta(days=age), price, rng.choice(sizes), supplier))
    return sorted(made)


def random_lines(rng: random.Random) -> list[str]:
    return [
        f"{dish},1,2020-01-01,4,{name},{rng.choice([50, 100, 180, 333, 500])},"
        f"g,{rng.choice(['yes', 'no', 'no'])}"
        for dish in DISHES
        for name in rng.sample(NAMES, 3)
    ]


def store(folder: Path, prices: list[Row], lines: list[str]) -> Book:
    rows = [f"{name},{day},{price},USD,{size} g,{shop}" for name, day, price, size, shop in prices]
    return make_book(
        folder,
        {
            "ingredients": "\n".join(["ingredient,base", *(f"{name},g" for name in NAMES)]),
            "prices": "\n".join(["ingredient,date,price,currency,pack,supplier", *rows]),
            "dishes": "\n".join(
                ["dish,version,effective_from,portions,ingredient,quantity,unit,pantry", *lines]
            ),
        },
        series=(),
    )


def packs_on(prices: list[Row], name: str, on: date) -> list[tuple[float, float]]:
    """The rule in slow Python, without series and without named products."""
    seen = [row for row in prices if row[0] == name and row[1] <= on]
    last = max(day for _, day, *_ in seen)
    first = (on if (on - last).days <= FRESH else last) - timedelta(days=FRESH)
    by_pack = defaultdict(list)
    for _, day, price, size, supplier in seen:
        by_pack[supplier, size].append((day, price))
    found = []
    for (_, size), days in by_pack.items():
        day = max(each for each, _ in days)
        if day >= first:
            found.append((float(size), statistics.median(p for d, p in days if d == day)))
    return found


@pytest.mark.parametrize("seed", range(2))
def test_buys_what_trying_every_purchase_buys(tmp_path: Path, seed: int) -> None:
    rng = random.Random(seed)
    prices = random_prices(rng, one_pack=False)
    book = store(tmp_path, prices, random_lines(rng))
    shops = []
    with reading(book):  # opened once for all shops
        for _ in range(6):
            on = ON - timedelta(days=rng.choice([0, 0, 10, 30]))
            batches = {d: rng.choice([0.5, 1, 2]) for d in rng.sample(DISHES, 2)}
            shops.append((on, shop_for(book, batches, on=on)))
    held, many = 0, 0
    for on, found in shops:
        assert found.ingredients
        for item in found.ingredients:
            if not any(row[0] == item.ingredient and row[1] <= on for row in prices):
                assert item.packs == ()
                continue
            packs = packs_on(prices, item.ingredient, on)
            assert item.needed is not None
            counts = every_purchase(packs, item.needed)
            bought = [(n, *pack) for n, pack in zip(counts, packs, strict=True) if n]
            assert item.cost == pytest.approx(sum(n * price for n, _, price in bought))
            assert item.bought == pytest.approx(sum(n * size for n, size, _ in bought))
            held += item.packs[0].age_days > FRESH
            many += len(packs) > 1
    assert held
    assert many > 5


@pytest.mark.parametrize("seed", range(2))
def test_with_one_pack_each_the_till_is_never_under_the_plate(tmp_path: Path, seed: int) -> None:
    rng = random.Random(seed)
    book = store(tmp_path, random_prices(rng, one_pack=True), random_lines(rng))
    with reading(book):
        shops = [
            shop_for(book, {dish: rng.choice([1, 1, 3])}, on=ON, pantry=place % 2 == 0)
            for place, dish in enumerate(DISHES)
        ]
    for found in shops:
        assert found.complete
        assert found.cost >= found.plate_cost - 1e-9
        # with one pack, what is left over is all that the till costs more
        assert found.cost - found.left_over_value == pytest.approx(found.plate_cost, abs=1e-9)


def cost_of(found: Till) -> float:
    assert found.complete
    return found.cost


@pytest.mark.parametrize("seed", range(2))
def test_shopping_together_and_from_the_cupboard(tmp_path: Path, seed: int) -> None:
    rng = random.Random(10 + seed)
    book = store(tmp_path, random_prices(rng, one_pack=False), random_lines(rng))
    with reading(book):
        cheaper = [sharing_saves(book, *rng.sample(DISHES, 2)) for _ in range(4)]
    assert any(cheaper)  # sharing packs does save in some of the cases


def sharing_saves(book: Book, one: str, other: str) -> bool:
    """Check the shops for two dishes, and tell whether buying for both at once is cheaper."""
    together = cost_of(shop_for(book, {one: 1, other: 2}, on=ON))
    apart = [cost_of(shop_for(book, batches, on=ON)) for batches in ({one: 1}, {other: 2})]
    assert together <= sum(apart) + 1e-9
    without = cost_of(shop_for(book, {one: 1, other: 2}, on=ON, pantry=False))
    assert without <= together + 1e-9
    more = cost_of(shop_for(book, {one: 1.5, other: 2}, on=ON))
    assert more >= together - 1e-9
    return together < sum(apart) - 0.01
