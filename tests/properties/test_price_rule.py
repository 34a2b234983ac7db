"""The SQL price rule equals the slow one of tests/oracle.py on random books, and keeps its laws."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from pricing.book.connect import Book, reading
from pricing.book.read import read_settings
from pricing.contents.settings import change_setting
from pricing.prices.evidence import GridPrice, grid_prices
from pricing.prices.rule import Rule
from tests import oracle
from tests.kitchen import load, make_book
from tests.loops import rounds

SHOPS = ("Quay", "Mill", "")
PRODUCTS = ("", "large")
FIRST, LAST = date(2012, 1, 1), date(2020, 12, 31)
Kitchen = dict[int, tuple[list[oracle.Seen], list[tuple[str, dict[tuple[int, int], float]]]]]


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
    """Observations with gaps from days to years, several sources, some on one day."""
    seen, day = [], FIRST + timedelta(days=rng.randrange(900))
    kinds = rng.choice([("shelf",), ("shelf", "receipt"), ("shelf", "invoice"), ("quote",)])
    while day < LAST and len(seen) < 40:
        for _ in range(rng.choice([1, 1, 2, 3])):
            price = round(rng.uniform(1, 9), 2)
            seen.append(
                oracle.Seen(
                    day=day,
                    unit_price=price / 100,
                    supplier=rng.choice(SHOPS),
                    product=rng.choice(PRODUCTS),
                    kind=rng.choice(kinds),
                )
            )
        day += timedelta(days=rng.choice([0, 3, 20, 45, 46, 90, 400, 900]))
    return seen


def store(folder: Path, kitchen: Kitchen, rng: random.Random) -> Book:
    ingredients = ["ingredient,base,series"]
    series = ["series,month,value,parent"]
    prices = ["ingredient,date,price,currency,pack,supplier,product,kind"]
    for number, (seen, ladder) in kitchen.items():
        # every third names no series: the food series, the ladder of the first, moves it
        ingredients.append(f"i{number},g,{ladder[0][0] if number % 3 else ''}")
        for rung, (name, values) in enumerate(ladder):
            parent = ladder[rung + 1][0] if rung < 2 else ""
            series += [f"{name},{y}-{m:02d},{v!r},{parent}" for (y, m), v in values.items()]
        prices += [
            f"i{number},{s.day},{s.unit_price * 100:.2f},USD,100 g,{s.supplier},{s.product},"
            f"{s.kind}"
            for s in seen
        ]
    book = make_book(folder, {"index": "\n".join(series), "ingredients": "\n".join(ingredients)})
    change_setting(book, "food_series", kitchen[0][1][0][0])
    body = prices[1:]
    rng.shuffle(body)  # row order never matters, nor what came in which load
    for part in (body[: len(body) // 2], body[len(body) // 2 : -3], body[-3:]):
        report = load(book, "prices", "\n".join([prices[0], *part]), accept_unusual=True)
        assert report.problems == ()
    return book


def ladder_of(kitchen: Kitchen, number: int) -> oracle.Ladder:
    """The ingredient's own series, then those of the food series that are not among them."""
    own = kitchen[number][1] if number % 3 else []
    names = {name for name, _ in own}
    return [*own, *(rung for rung in kitchen[0][1] if rung[0] not in names)]


RULES = [
    {},
    {"basis": "observed"},
    {"as_known": True},
    {"market": "trade"},
    {"market": "any"},
    {"without": ("nobody",)},  # no filter at all, but typical prices are worked out anew
    {"without": ("Quay",), "half_life_days": 30},
    {"supplier": "Mill"},
]


@pytest.mark.parametrize("seed", range(rounds(4)))
def test_statement_equals_the_slow_rule(tmp_path: Path, seed: int) -> None:
    rng = random.Random(seed)
    kitchen = {n: (random_seen(rng), random_ladder(rng, n)) for n in range(20)}
    # a row that repeats another in all its facts is stored once (contract), so once here too
    kitchen = {n: (list(dict.fromkeys(seen)), ladder) for n, (seen, ladder) in kitchen.items()}
    book = store(tmp_path, kitchen, rng)
    days = [FIRST + timedelta(days=rng.randrange((LAST - FIRST).days)) for _ in range(20)]
    days += [date(2026, 11, 24)]
    outcomes = set()
    with reading(book) as con:
        ids = dict(con.execute("SELECT name, ingredient_id FROM ingredient_now").fetchall())
        book_rule = Rule.of(read_settings(con))
        for others in RULES:
            rule = replace(book_rule, **others)
            priced = grid_prices(con, rule, [(ids[f"i{n}"], d) for n in kitchen for d in days])
            for number, (seen, _) in kitchen.items():
                for day in days:
                    want = oracle.price_on(
                        _passing(seen, rule),
                        day,
                        ladder_of(kitchen, number),
                        bridging=rule.basis == "bridged",
                        known=rule.as_known,
                        half_life=rule.half_life_days,
                        market="any" if rule.supplier else rule.market,
                    )
                    got = priced[ids[f"i{number}"], day]
                    _compare(got, want, (seed, others, number, day))
                    outcomes.add((want.basis, want.series is None, want.moved_share > 0))
    assert len(outcomes) == 4  # moved, missing, as seen, and a mean with moved prices in it


def _passing(seen: list[oracle.Seen], rule: Rule) -> list[oracle.Seen]:
    return [
        each
        for each in seen
        if rule.supplier in (None, each.supplier) and each.supplier not in rule.without
    ]


def _compare(got: GridPrice, want: oracle.Priced, where: object) -> None:
    assert (got.basis, got.series) == (want.basis, want.series), where
    if want.unit_price is None:
        assert got.unit_price is None, where
        return
    assert got.unit_price == pytest.approx(want.unit_price, rel=1e-12), where
    assert got.moved_share == pytest.approx(want.moved_share, rel=1e-9, abs=1e-12), where
    if want.market != "any":
        assert got.market == want.market, where
    # what is behind it works out to the same price again, end by end
    ends = [[each for each in got.observed if each.date <= (got.d0 or date.min)]]
    if got.basis == "observed":
        mean = sum(each.share * each.unit_price * each.moved for each in ends[0])
        assert mean == pytest.approx(want.unit_price, rel=1e-12), where
        assert sum(each.share for each in ends[0]) == pytest.approx(1, rel=1e-12), where


@pytest.mark.parametrize("seed", range(rounds(4)))
def test_a_price_jumps_only_with_news(tmp_path: Path, seed: int) -> None:
    rng = random.Random(100 + seed)
    kitchen = {n: (random_seen(rng), random_ladder(rng, n)) for n in range(6)}
    book = store(tmp_path, kitchen, rng)
    start = FIRST + timedelta(days=rng.randrange(300, 2000))
    days = [start + timedelta(days=step) for step in range(400)]
    with reading(book) as con:
        ids = dict(con.execute("SELECT name, ingredient_id FROM ingredient_now").fetchall())
        rule = Rule.of(read_settings(con))
        priced = grid_prices(con, rule, [(ids[f"i{n}"], d) for n in kitchen for d in days])
    steps: dict[object, list[float]] = {}
    for number in kitchen:
        for before, day in pairwise(days):
            one, two = (priced[ids[f"i{number}"], each] for each in (before, day))
            if one.unit_price is None or two.unit_price is None or two.d0 != one.d0:
                continue  # never seen yet, or news on the day
            if two.d0 is not None and (day - two.d0).days <= rule.fresh_days:
                assert two.unit_price == one.unit_price, (seed, number, day)
            elif one.basis == two.basis and (one.months, one.series) == (two.months, two.series):
                # within a month the series stands still: what is left is one steady bend
                ratio = two.unit_price / one.unit_price
                steps.setdefault((number, two.d0, two.d1, two.series), []).append(ratio)
    assert steps
    for where, ratios in steps.items():
        assert max(ratios) - min(ratios) < 1e-9, where


@pytest.mark.parametrize("seed", range(rounds(4)))
def test_trade_prices_beside_shop_prices_change_nothing_in_a_shop_book(
    tmp_path: Path, seed: int
) -> None:
    rng = random.Random(200 + seed)
    kitchen = {n: (random_seen(rng), random_ladder(rng, n)) for n in range(6)}
    kitchen = {
        n: ([replace(each, kind="shelf") for each in seen], ladder)
        for n, (seen, ladder) in kitchen.items()
    }
    book = store(tmp_path, kitchen, rng)
    days = [FIRST + timedelta(days=rng.randrange((LAST - FIRST).days)) for _ in range(60)]
    before, trade_before = (_figures(book, days, market) for market in ("shop", "trade"))
    rows = ["ingredient,date,price,currency,pack,supplier,product,kind"]
    for number, (seen, _) in kitchen.items():
        for each in rng.sample(seen, min(4, len(seen))):
            # no later than a year after a shop price; what was not seen in a shop for longer than
            # that, and is still bought in trade, is priced by trade
            day = each.day + timedelta(days=rng.randrange(366))
            price = rng.uniform(1, 9)
            kind = rng.choice(oracle.TRADE)
            rows.append(f"i{number},{day},{price:.2f},USD,100 g,Quay,{each.product},{kind}")
    report = load(book, "prices", "\n".join(rows), accept_unusual=True)
    assert (report.problems, report.added) == ((), len(rows) - 1)
    assert _figures(book, days, "shop") == before
    assert _figures(book, days, "trade") != trade_before  # they count where they are asked for


def _figures(book: Book, days: list[date], market: str) -> list[GridPrice]:
    with reading(book) as con:
        ids = [row[0] for row in con.execute("SELECT ingredient_id FROM ingredient_now").fetchall()]
        rule = replace(Rule.of(read_settings(con)), market=market)
        priced = grid_prices(
            con, rule, [(each, day) for each in ids for day in dict.fromkeys(days)]
        )
    return [priced[key] for key in sorted(priced)]
