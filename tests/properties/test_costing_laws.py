"""Laws every costing keeps, whatever the recipe and the prices."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import pricing
from pricing.book.connect import Book, reading
from tests.kitchen import load, make_book
from tests.loops import rounds

BASE = """
    ingredient,base,density_g_per_ml,grams_each,yield_pct,series
    flour,g,0.53,,,us-bls:SEFA01
    milk,ml,1.03,,,us-bls:SS09011
    egg,each,,57,88,us-bls:SEFH
    butter,g,0.96,,,us-bls:SS10011
    leek,g,,250,60,us-bls:SEFL04
"""
SERIES = tuple(line.rsplit(",", 1)[1] for line in BASE.split()[1:])
UNITS = {
    "flour": ("g", "us cup", "lb"),
    "milk": ("ml", "us cup", "g"),
    "egg": ("each", "dozen", "g"),
    "butter": ("g", "us tbsp", "oz"),
    "leek": ("g", "each", "kg"),
}
QUANTITIES = st.integers(1, 2000).map(lambda n: f"{n / 16:.4f}".rstrip("0").rstrip("."))


@dataclass(frozen=True)
class Line:
    ingredient: str
    quantity: str
    unit: str
    edible: bool

    def csv(self, times: int = 1) -> str:
        quantity = f"{float(self.quantity) * times:.6f}".rstrip("0").rstrip(".")
        edible = self.edible and self.ingredient in ("egg", "leek")
        return f"{self.ingredient},{quantity},{self.unit},{'edible' if edible else ''}"


LINES = st.lists(
    st.sampled_from(sorted(UNITS)).flatmap(
        lambda name: st.builds(
            Line, st.just(name), QUANTITIES, st.sampled_from(UNITS[name]), st.booleans()
        )
    ),
    min_size=1,
    max_size=6,
)
PRICES = st.lists(
    st.tuples(
        st.sampled_from(sorted(UNITS)),
        st.integers(0, 4000),
        st.integers(50, 900),
        st.sampled_from(["Quay", "Mill"]),
    ),
    max_size=15,
)
PACKS = {"flour": "1 kg", "milk": "1 l", "egg": "6 each", "butter": "8 oz", "leek": "500 g"}
START = date(2013, 1, 1)
HEAD = "dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit,state"
SLOW = settings(
    max_examples=rounds(12),
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)


def version(
    dish: str, label: str, start: date, portions: int, lines: list[Line], times: int = 1
) -> str:
    head = f"{dish},{label},{start},{portions * times},800"
    return "\n".join(f"{head},{line.csv(times)}" for line in lines)


_FOLDER: list[tempfile.TemporaryDirectory[str]] = []


def book_of(prices: list[tuple[str, int, int, str]], dishes: str) -> Book:
    _FOLDER[:] = [tempfile.TemporaryDirectory()]  # the one before is removed
    folder = Path(_FOLDER[0].name)
    rows = [
        f"{name},{START + timedelta(days=day)},{cents / 100:.2f},USD,{PACKS[name]},{shop}"
        for name, day, cents, shop in prices
    ]
    # one old price of everything, so that every dish can be costed
    rows += [f"{name},2012-06-01,3.00,USD,{PACKS[name]},Quay" for name in UNITS]
    head = "ingredient,date,price,currency,pack,supplier"
    return make_book(
        folder,
        {"ingredients": BASE, "prices": "\n".join([head, *rows]), "dishes": dishes},
        series=SERIES,
    )


@SLOW
@given(lines=LINES, other=LINES, prices=PRICES, day=st.integers(0, 4500))
def test_effects_add_up_and_the_change_turns_its_sign(
    lines: list[Line], other: list[Line], prices: list[tuple[str, int, int, str]], day: int
) -> None:
    dishes = "\n".join(
        [
            HEAD,
            version("pie", "a", date(2010, 1, 1), 4, lines),
            version("pie", "b", date(2018, 1, 1), 6, other),
            version("half", "1", date(2010, 1, 1), 8, lines),
            "half,1,2010-01-01,8,800,dish:pie,1,portion,",
        ]
    )
    book = book_of(prices, dishes)
    then, now = START, START + timedelta(days=day)
    with reading(book):  # opened once for all that is asked
        for dish in ("pie", "half"):
            check_effects(book, dish, then, now)


def check_effects(book: Book, dish: str, then: date, now: date) -> None:
    there = pricing.compare(book, dish, then=then, now=now)
    back = pricing.compare(book, dish, then=now, now=then)
    old = pricing.cost_dish(book, dish, on=then)
    new = pricing.cost_dish(book, dish, on=now)
    assert old.complete
    assert new.complete
    assert there.change == pytest.approx(new.cost_per_portion - old.cost_per_portion, abs=1e-9)
    parts = there.ingredients
    assert sum(p.price_effect for p in parts) == pytest.approx(there.price_effect, abs=1e-9)
    assert sum(p.recipe_effect for p in parts) == pytest.approx(there.recipe_effect, abs=1e-9)
    assert there.corners.now_recipe_now - there.corners.then_recipe_then == pytest.approx(
        there.change, abs=1e-9
    )
    # first prices, then the recipe: the way back changes the prices of the other recipe, so that
    # only the whole change turns its sign
    assert back.change == pytest.approx(-there.change, abs=1e-9)
    others = {each.ingredient: each for each in back.ingredients}
    assert others.keys() == {part.ingredient for part in parts}
    for part in parts:  # each way has an order of its own: the largest effect first
        other = others[part.ingredient]
        risen = part.unit_price_now - part.unit_price_then
        assert part.price_effect == pytest.approx(part.quantity_then * risen, abs=1e-9)
        assert other.price_effect == pytest.approx(-part.quantity_now * risen, abs=1e-9)
    same = pricing.compare(
        book, dish, then=(then, there.then.version), now=(then, there.then.version)
    )
    assert same.change == 0


@SLOW
@given(lines=LINES, prices=PRICES, times=st.integers(2, 5), split=st.data())
def test_batch_size_and_split_lines_do_not_matter(
    lines: list[Line], prices: list[tuple[str, int, int, str]], times: int, split: st.DataObject
) -> None:
    start = date(2010, 1, 1)
    halves = [
        Line(each.ingredient, f"{float(each.quantity) / 2:.6f}", each.unit, each.edible)
        for each in lines
        for _ in range(2)
    ]
    order = split.draw(st.permutations(lines))
    dishes = "\n".join(
        [
            HEAD,
            version("one", "1", start, 4, lines),
            version("many", "1", start, 4, lines, times),
            version("split", "1", start, 4, halves),
            version("shuffled", "1", start, 4, order),
            "taken,1,2010-01-01,1,800,dish:one,1,portion,",
            "weighed,1,2010-01-01,1,800,dish:one,200,g,",
        ]
    )
    book = book_of(prices, dishes)
    on = date(2021, 3, 3)
    with reading(book):
        one = pricing.cost_dish(book, "one", on=on).cost_per_portion
        for dish in ("many", "split", "shuffled", "taken", "weighed"):
            other = pricing.cost_dish(book, dish, on=on).cost_per_portion
            assert other == pytest.approx(one, rel=1e-9), dish


@SLOW
@given(lines=LINES, prices=PRICES, first=st.integers(0, 7))
def test_catalogue_and_single_costing_agree(
    lines: list[Line], prices: list[tuple[str, int, int, str]], first: int
) -> None:
    dishes = "\n".join(
        [
            HEAD,
            version("pie", "a", date(2015, 2, 1), 4, lines),  # costed before it began, too
            version("pie", "b", date(2017, 6, 1), 3, lines[:1]),
            version("supper", "1", date(2015, 1, 1), 2, lines),
            "supper,1,2015-01-01,2,800,dish:pie,2,portion,",
        ]
    )
    book = book_of(prices, dishes)
    with reading(book):
        points = pricing.drift_points(book, start="2014-11", end="2018-02")
        asked = [(dish.dish, point) for dish in points.dishes for point in dish.points[first::8]]
        for dish, point in asked:
            year, month = map(int, point.month.split("-"))
            cost = pricing.cost_dish(book, dish, on=date(year, month, 15))
            assert cost.version == point.version
            assert cost.cost_per_portion == pytest.approx(point.cost_per_portion, rel=1e-12)
            moved = sum(
                (each.cost or 0) * (each.moved_share or 0) for each in cost.ingredient_lines()
            )
            assert moved / cost.cost_per_batch == pytest.approx(point.share_bridged, abs=1e-12)


@SLOW
@given(
    lines=LINES,
    prices=PRICES,
    day=st.integers(0, 4000),
    later=st.integers(1, 600),
    cents=st.integers(10, 2000),
    name=st.sampled_from(sorted(UNITS)),
)
def test_a_later_price_never_changes_an_earlier_observed_cost(
    lines: list[Line],
    prices: list[tuple[str, int, int, str]],
    day: int,
    later: int,
    cents: int,
    name: str,
) -> None:
    dishes = "\n".join([HEAD, version("pie", "a", date(2010, 1, 1), 4, lines)])
    book = book_of(prices, dishes)
    on = START + timedelta(days=day)
    before = pricing.cost_dish(book, "pie", on=on, basis="observed")
    seen = min(on + timedelta(days=later), date(2026, 11, 24))
    load(
        book,
        "prices",
        f"ingredient,date,price,currency,pack\n{name},{seen},{cents / 100:.2f},USD,{PACKS[name]}",
        accept_unusual=True,
    )
    after = pricing.cost_dish(book, "pie", on=on, basis="observed")
    assert after.as_json() == before.as_json()
