"""Laws of swaps: what one saves is what the rewritten recipe costs less, on every day."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from random import Random

import pytest

from pricing.book.connect import Book, reading
from pricing.dishes.catalogue import cost_catalogue
from pricing.prices.rule import Rule
from pricing.swaps.of_catalogue import catalogue_swaps
from pricing.swaps.of_dish import find_swaps
from tests.kitchen import load, make_book
from tests.loops import rounds

START, DAYS = date(2022, 1, 1), 500
NAMES = ("flour", "oats", "butter", "lard", "milk", "syrup")
BASES = dict.fromkeys(NAMES, "g") | {"milk": "ml", "syrup": "ml"}
SERIES = {"flour": "us-bls:SEFA01", "butter": "us-bls:SS10011", "milk": "us-bls:SS09011"}
RATIO = 0.75


def random_kitchen(chance: Random, folder: Path, *, written: bool) -> Book:
    """Return a book with two dishes, one inside the other; if `written`, each swap written out too.

    The dish "pie: oats for flour" is the pie with every line of flour written as 0.75 times as much
    oats, lines of the sub-recipe included: what the swap stands for, entered by hand.
    """
    lines = {
        dish: [(chance.choice(NAMES), chance.randint(5, 400)) for _ in range(chance.randint(1, 5))]
        for dish in ("sauce", "pie")
    }
    portions = {"sauce": chance.randint(1, 6), "pie": chance.randint(1, 8)}
    rows = ["dish,version,effective_from,portions,ingredient,quantity,unit"]
    swaps = [(one, other) for one in NAMES for other in NAMES if one != other]

    def write(dish: str, put: tuple[str, str] | None) -> None:
        name = dish if put is None else f"{dish}: {put[1]} for {put[0]}"
        for ingredient, quantity in lines[dish]:
            amount = f"{quantity}"
            if put is not None and ingredient == put[0]:
                ingredient, amount = put[1], f"{quantity * RATIO:.2f}"
            unit = BASES[ingredient]
            rows.append(f"{name},1,2020-01-01,{portions[dish]},{ingredient},{amount},{unit}")
        if dish == "pie":
            sub = "sauce" if put is None else f"sauce: {put[1]} for {put[0]}"
            rows.append(f"{name},1,2020-01-01,{portions[dish]},dish:{sub},2,portion")

    for put in (None, *(swaps if written else [])):
        for dish in ("sauce", "pie"):
            write(dish, put)
    prices = ["ingredient,date,price,currency,pack,supplier"]
    if written:  # one old price of everything: the written dishes are complete on every day
        first = START - timedelta(days=30)
        prices += [f"{name},{first},3.00,USD,1000 {BASES[name]},A" for name in NAMES]
    for _ in range(chance.randint(5, 60)):
        name = chance.choice(NAMES)
        day = START + timedelta(days=chance.randint(-30, DAYS - 1))
        pack = chance.choice((250, 500, 1000))
        price = pack * chance.randint(2, 9) / 1000
        prices.append(f"{name},{day},{price:.4f},USD,{pack} {BASES[name]},{chance.choice('AB')}")
    ingredients = ["ingredient,base,series"]
    ingredients += [f"{name},{BASES[name]},{SERIES.get(name, '')}" for name in NAMES]
    stated = [f"{one},{other},{RATIO}" for one, other in swaps]
    return make_book(
        folder,
        {
            "ingredients": "\n".join(ingredients),
            "prices": "\n".join(dict.fromkeys(prices)),
            "dishes": "\n".join(rows),
            "swaps": "\n".join(["ingredient,substitute,ratio", *stated]),
        },
        series=SERIES.values(),
    )


def costs_of_all(book: Book, days: list[date]) -> dict[str, list[float | None]]:
    """Return every dish's cost per portion on every day; None where a line has no price."""
    with reading(book) as con:
        found = cost_catalogue(con, Rule(currency="USD"), days)
    return {
        dish: [
            float(cost) if whole else None
            for cost, whole in zip(found.cost[at], found.complete[at], strict=True)
        ]
        for at, dish in enumerate(found.dishes)
    }


def runs_back(signs: list[int]) -> Iterator[int]:
    """Yield the places from the last back for as long as the sign stays that of the last."""
    for place in range(len(signs) - 1, -1, -1):
        if signs[place] != signs[-1]:
            return
        yield place


@pytest.mark.parametrize("seed", range(rounds(6)))
def test_a_swap_is_the_recipe_written_anew(tmp_path: Path, seed: int) -> None:
    chance = Random(f"swaps {seed}")
    book = random_kitchen(chance, tmp_path, written=True)
    on = START + timedelta(days=DAYS - 1)
    days = [START - timedelta(days=30) + timedelta(days=n) for n in range(DAYS + 30)]
    costs = costs_of_all(book, days)
    compared = 0
    for dish in ("sauce", "pie"):
        found = find_swaps(book, dish, on=on)
        for swap in found.swaps:
            written = costs[f"{dish}: {swap.substitute} for {swap.ingredient}"]
            before, after = costs[dish][-1], written[-1]
            assert before is not None
            assert after is not None
            assert swap.saving == pytest.approx(before - after, abs=1e-9)
            assert swap.cost_per_portion == pytest.approx(after, abs=1e-9)
            # since when: day by day, back to the first day of all prices
            signs = [
                0 if a is None or b is None or abs(a - b) < 1e-9 else (1 if a > b else -1)
                for a, b in zip(costs[dish], written, strict=True)
            ]
            since = days[min(runs_back(signs))] if signs[-1] else None
            told = swap.cheaper_since if signs[-1] > 0 else swap.dearer_since
            assert told == since
            assert (swap.cheaper_since is None) or (swap.dearer_since is None)
            compared += 1
    assert compared


@pytest.mark.parametrize("seed", range(rounds(4)))
def test_the_catalogue_sums_what_each_dish_saves(tmp_path: Path, seed: int) -> None:
    book = random_kitchen(Random(f"catalogue {seed}"), tmp_path, written=False)
    on = START + timedelta(days=DAYS - 1)
    with reading(book) as con:
        whole = catalogue_swaps(book, on=on)
        portions = dict(
            con.execute("SELECT dish, portions::DOUBLE FROM dish_version_now").fetchall()
        )
        del portions["sauce"]  # a half-product: it is in the pie
        found = {dish: find_swaps(book, dish, on=on).swaps for dish in portions}
    sums: dict[tuple[str, str], float] = {}
    dishes: dict[tuple[str, str], int] = {}
    for dish, many in portions.items():
        for swap in found[dish]:
            key = swap.ingredient, swap.substitute
            dishes[key] = dishes.get(key, 0) + 1
            if swap.saving is not None:
                sums[key] = sums.get(key, 0.0) + many * swap.saving
    told = {(swap.ingredient, swap.substitute): swap for swap in whole.swaps}
    assert {key: swap.dishes for key, swap in told.items()} == dishes
    for key, swap in told.items():
        if key in sums:
            assert swap.saving == pytest.approx(sums[key], abs=1e-9)
        else:
            assert swap.saving is None


@pytest.mark.parametrize("seed", range(3))
def test_a_target_is_reached_by_as_few_swaps_as_trying_every_set_finds(
    tmp_path: Path, seed: int
) -> None:
    """Clashes and needs are stated by names in the file; every set of swaps is tried here."""
    chance = Random(f"target {seed}")
    book = random_kitchen(chance, tmp_path, written=True)
    on = START + timedelta(days=DAYS - 1)
    stated: dict[tuple[str, str], tuple[set[str], set[str]]] = {}
    rows = ["ingredient,substitute,ratio,not_with,only_with"]
    for one, other in chance.sample([(a, b) for a in NAMES for b in NAMES if a != b], 12):
        clash = set(chance.sample(NAMES, chance.choice((0, 0, 1))))
        need = set(chance.sample(NAMES, chance.choice((0, 0, 0, 2))))
        stated[one, other] = clash, need
        rows.append(f"{one},{other},{RATIO},{';'.join(clash)},{';'.join(need)}")
    assert load(book, "swaps", "\n".join(rows), replace=True).problems == ()
    found = find_swaps(book, "pie", on=on)
    figures = {(s.ingredient, s.substitute): s.saving for s in found.swaps}
    sets = [
        chosen
        for chosen in all_sets([key for key, saving in figures.items() if saving is not None])
        if all(goes_with(key, chosen, stated) for key in chosen)
    ]
    costs = {
        chosen: found.cost_per_portion - sum(figures[key] or 0.0 for key in chosen)
        for chosen in sets
    }
    targets = [share * found.cost_per_portion for share in (0.98, 0.9, 0.75, 0.5, 0.2)]
    with reading(book):
        answers = [find_swaps(book, "pie", on=on, target=target).target for target in targets]
    for target, told in zip(targets, answers, strict=True):
        enough = [len(chosen) for chosen, cost in costs.items() if cost <= target + 1e-9]
        assert told is not None
        assert told.reached is bool(enough)
        if enough:
            assert len(told.chosen) == min(enough)
        else:
            assert told.cost_per_portion == pytest.approx(min(costs.values()), abs=1e-9)


Pair = tuple[str, str]  # ingredient, substitute


def all_sets(keys: list[Pair]) -> list[frozenset[Pair]]:
    """Return every set with at most one swap of an ingredient."""
    found: list[frozenset[Pair]] = [frozenset()]
    for name in NAMES:
        here = [key for key in keys if key[0] == name]
        found += [chosen | {key} for chosen in found for key in here]
    return found


def goes_with(
    key: Pair, chosen: frozenset[Pair], stated: dict[Pair, tuple[set[str], set[str]]]
) -> bool:
    """Tell whether a swap clashes with none of the others and has one it needs."""
    clash, need = stated.get(key, (set(), set()))
    others = {put for other, put in chosen if (other, put) != key}
    barred = any(key[1] in stated.get(o, (set(), set()))[0] for o in chosen if o != key)
    return not (clash & others) and not barred and (not need or bool(need & others))
