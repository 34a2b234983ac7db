"""The SQL price rule equals the slow one of tests/oracle.py on random books."""

from __future__ import annotations

import random
from datetime import date, timedelta
from pathlib import Path

import pytest

from pricing.book.connect import Book, reading
from pricing.prices.evidence import grid_prices
from pricing.prices.rule import Rule
from tests import oracle
from tests.kitchen import make_book
from tests.loops import rounds

SHOPS = ("Quay", "Mill", "")
PRODUCTS = ("", "large")
FIRST, LAST = date(2012, 1, 1), date(2020, 12, 31)


def random_ladder(
    rng: random.Random, number: int
) -> list[tuple[str, dict[tuple[int, int], float]]]:
    """Three series with holes and early ends, narrowest first."""
    ladder = []
    for rung in range(3):
        start = rng.choice([12 * 2011, 12 * 2012 + rng.randrange(24)])
        end = 12 * (2016 + rng.randrange(5)) + rng.randrange(12)
        level, values = 100.0, {}
        skip_until = 0
        for month in range(start, end + 1):
            level *= 1 + rng.uniform(-0.02, 0.03)
            if rng.random() < 0.03:
                skip_until = month + rng.randrange(1, 8)
            if month >= skip_until:
                values[month // 12, month % 12 + 1] = round(level, 3)
        ladder.append((f"test:{number}-{rung}", values))
    return ladder


def random_seen(rng: random.Random) -> list[oracle.Seen]:
    """Observations with gaps from days to years, several streams, some on one day."""
    seen, day = [], FIRST + timedelta(days=rng.randrange(900))
    while day < LAST and len(seen) < 40:
        for _ in range(rng.choice([1, 1, 2, 3])):
            price = round(rng.uniform(1, 9), 2)
            seen.append(
                oracle.Seen(
                    day=day,
                    unit_price=price / 100,
                    supplier=rng.choice(SHOPS),
                    product=rng.choice(PRODUCTS),
                )
            )
        day += timedelta(days=rng.choice([0, 3, 20, 45, 46, 90, 400, 900]))
    return seen


def store(
    folder: Path, kitchen: dict[int, tuple[list[oracle.Seen], list]], rng: random.Random
) -> Book:  # type: ignore[type-arg]
    ingredients = ["ingredient,base,series"]
    series = ["series,month,value,parent"]
    prices = ["ingredient,date,price,currency,pack,supplier,product"]
    for number, (seen, ladder) in kitchen.items():
        ingredients.append(f"i{number},g,{ladder[0][0]}")
        for rung, (name, values) in enumerate(ladder):
            parent = ladder[rung + 1][0] if rung < 2 else ""
            series += [f"{name},{y}-{m:02d},{v!r},{parent}" for (y, m), v in values.items()]
        prices += [
            f"i{number},{s.day},{s.unit_price * 100:.2f},USD,100 g,{s.supplier},{s.product}"
            for s in seen
        ]
    body = prices[1:]
    rng.shuffle(body)  # row order never matters
    return make_book(
        folder,
        {
            "index": "\n".join(series),
            "ingredients": "\n".join(ingredients),
            "prices": "\n".join([prices[0], *body]),
        },
        series=(),
    )


@pytest.mark.parametrize("seed", range(rounds(4)))
def test_statement_equals_the_slow_rule(tmp_path: Path, seed: int) -> None:
    rng = random.Random(seed)
    kitchen = {n: (random_seen(rng), random_ladder(rng, n)) for n in range(30)}
    # a row that repeats another in all its facts is stored once (contract), so once here too
    kitchen = {n: (list(dict.fromkeys(seen)), ladder) for n, (seen, ladder) in kitchen.items()}
    book = store(tmp_path, kitchen, rng)
    days = [FIRST + timedelta(days=rng.randrange((LAST - FIRST).days)) for _ in range(60)]
    days += [date(2026, 11, 24)]
    outcomes = set()
    with reading(book) as con:
        ids = dict(con.execute("SELECT name, ingredient_id FROM ingredient_now").fetchall())
        for basis in ("bridged", "observed"):
            rule = Rule(currency="USD", basis=basis)
            priced = grid_prices(con, rule, [(ids[f"i{n}"], d) for n in kitchen for d in days])
            for number, (seen, ladder) in kitchen.items():
                for day in days:
                    want = oracle.price_on(seen, day, ladder, bridging=basis == "bridged")
                    got = priced[ids[f"i{number}"], day]
                    where = (seed, basis, number, day)
                    assert (got.basis, got.series) == (want.basis, want.series), where
                    if want.unit_price is None:
                        assert got.unit_price is None, where
                    else:
                        assert got.unit_price == pytest.approx(want.unit_price, rel=1e-12), where
                    outcomes.add((basis, want.basis, want.series is None))
    assert len(outcomes) >= 5  # the books are varied enough to meet every kind of answer
