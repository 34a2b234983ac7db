"""Recipes side by side: every figure by pencil, from the costs written in bakery.py."""

from __future__ import annotations

import itertools
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from pricing.bench.side_by_side import side_by_side
from pricing.book.connect import Book
from pricing.dishes.cost import cost_dish
from pricing.errors import InputRefused, MeasureRefused, RecipeRefused, UnknownName
from tests.kitchen import load, make_book
from tests.pricing.bench.bakery import FILES, ON


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return make_book(tmp_path, FILES, series=[])


def figures(stated: Any) -> tuple[float | None, tuple[str, ...]]:
    return stated.amount, stated.unstated


def test_two_versions(book: Book) -> None:
    found = side_by_side(book, ["leek pie@1", "leek pie@2"], on=ON)
    one, two = found.columns
    assert (one.cost_per_portion, two.cost_per_portion) == pytest.approx((0.70, 0.85))
    assert (one.version_in_force, two.version_in_force) == (False, True)
    # of the pie and of its pastry, made once: 40 + 20, 55 + 20; 45 + 60; 4 + 2, 5 + 2
    assert (figures(one.minutes), figures(two.minutes)) == ((60, ()), (75, ()))
    assert figures(one.minutes_waiting) == figures(two.minutes_waiting) == (105, ())
    assert (figures(one.pots), figures(two.pots)) == ((6, ()), (7, ()))
    # the pastry states no energy: at least the pie's own
    assert figures(one.energy_kwh) == (1.2, ("butter pastry",))
    assert (one.minutes.own, two.minutes.own) == (40, 55)
    assert one.marks is not None
    assert two.marks is not None
    assert (one.marks.given, one.marks.mean) == ((7, 8, 6), 7)  # 21 ÷ 3
    assert (two.marks.given, two.marks.mean) == ((8, 9, 8, 8), 8.25)  # 33 ÷ 4
    assert (one.tasting_note, two.tasting_note) == ("plain", "rich")
    assert one.against_first is None
    assert two.against_first is not None
    more = two.against_first
    assert more.cost_per_portion == pytest.approx(0.15)
    assert (more.minutes, more.minutes_waiting, more.pots, more.mark) == (15, 0, 1, 1.25)
    # 1.5 − 1.2: what both leave open, the energy of the one pastry, cancels out
    assert more.energy_kwh == pytest.approx(0.3)
    assert (more.allergens_added, more.allergens_removed) == ((), ())
    assert found.complete


def test_another_pastry_in_the_same_amount(book: Book) -> None:
    found = side_by_side(
        book, ["leek pie@2"], on=ON, exchange=[("dish:butter pastry", "Lard Pastry")]
    )
    column = found.columns[1]
    assert (column.dish, column.version) == ("leek pie", "2")
    assert column.change == "lard pastry in place of butter pastry"
    # 1.20 + 4.20 = 5.40; 8 portions
    assert column.cost_per_portion == pytest.approx(0.675)
    assert figures(column.minutes) == (55 + 25, ())
    assert figures(column.energy_kwh) == (1.5, ())  # 1.5 + 0
    assert column.marks is None  # nobody tasted this one
    assert column.tasting_note is None
    more = column.against_first
    assert more is not None
    assert more.cost_per_portion == pytest.approx(0.675 - 0.85)
    assert (more.minutes, more.minutes_waiting, more.pots) == (5, -30, 1)
    # the butter pastry says nothing of its energy, the lard pastry does: not told
    assert (more.energy_kwh, more.mark) == (None, None)
    assert (more.allergens_added, more.allergens_removed) == ((), ("milk",))


def test_an_exchange_costs_what_the_recipe_so_written_costs(book: Book) -> None:
    found = side_by_side(book, ["leek pie@2"], on=ON, exchange=[("butter pastry", "lard pastry")])
    written = """
        dish,version,effective_from,portions,ingredient,quantity,unit
        leek pie,3,2026-11-01,8,dish:lard pastry,1,batch
        leek pie,3,2026-11-01,8,leek,1.4,kg
    """
    assert load(book, "dishes", written).problems == ()
    cost = cost_dish(book, "leek pie", on=ON, version="3")
    assert found.columns[1].cost_per_portion == cost.cost_per_portion
    assert found.columns[1].allergens == cost.allergens


def test_an_exchange_reaches_into_a_dish_inside(book: Book) -> None:
    found = side_by_side(book, ["parcel"], on=ON, exchange=[("butter pastry", "lard pastry")])
    # one portion of the pie for 4 parcels: 0.85 ÷ 4, 0.675 ÷ 4
    costs = [each.cost_per_portion for each in found.columns]
    assert costs == pytest.approx([0.2125, 0.16875])
    assert found.columns[0].minutes.unstated == ("parcel",)


@pytest.mark.parametrize(
    ("amount", "cost"),
    [
        ("1 portion", 0.85 + 0.30),
        ("1/2 portion", 0.85 + 0.15),
        ("2 portions", 0.85 + 0.60),
        ("80 g", 0.85 + 0.24),  # 80 g of a batch of 400 g that costs 1.20
    ],
)
def test_a_dish_with_every_portion(book: Book, amount: str, cost: float) -> None:
    found = side_by_side(book, ["leek pie"], on=ON, add=[("salad", amount)])
    column = found.columns[1]
    assert column.cost_per_portion == pytest.approx(cost)
    assert column.change == f"with {amount} of salad for each portion"
    assert figures(column.minutes) == (55 + 20 + 10, ())
    more = column.against_first
    assert more is not None
    # the salad states 10 minutes, 1 pot and no energy; what the pastry leaves open cancels out
    assert (more.minutes, more.pots, more.energy_kwh, more.mark) == (10, 1, 0, None)


def test_an_addition_without_an_amount_is_one_portion(book: Book) -> None:
    one, other = (
        side_by_side(book, ["leek pie"], on=ON, add=[each]).columns[1]
        for each in ("salad", ("salad", "1 portion"))
    )
    assert one == other


def test_unknown_allergens_stay_unknown(book: Book) -> None:
    found = side_by_side(book, ["leek pie", "soup"], on=ON)
    pie, soup = found.columns
    assert (pie.allergens.names, pie.allergens.unknown) == (("milk", "wheat"), ())
    assert soup.allergens.unknown == ("broth",)
    more = soup.against_first
    assert more is not None
    assert (more.allergens_added, more.allergens_removed) == ("unknown", "unknown")


def test_a_missing_price_is_at_least_and_no_difference(book: Book) -> None:
    found = side_by_side(book, ["leek pie", "soup"], on=ON)
    soup = found.columns[1]
    assert (found.complete, soup.complete, soup.missing) == (False, False, ("broth",))
    assert soup.cost_per_portion == pytest.approx(0.30)  # 400 g leek: 1.20 ÷ 4
    assert soup.display == {"cost_per_portion": "at least $0.30"}
    assert soup.against_first is not None
    assert soup.against_first.cost_per_portion is None
    assert figures(soup.minutes) == (None, ("soup",))
    assert soup.against_first.minutes is None


def test_a_name_may_hold_an_at(book: Book) -> None:
    more = """
        dish,version,effective_from,portions,ingredient,quantity,unit
        bread @ noon,1,2026-01-05,4,flour,400,g
    """
    assert load(book, "dishes", more).problems == ()
    found = side_by_side(book, ["bread @ noon", "bread @ noon@1", "salad"][::2], on=ON)
    assert [each.dish for each in found.columns] == ["bread @ noon", "salad"]
    named = side_by_side(book, ["bread @ noon@1", "salad"], on=ON)
    assert named.columns == found.columns


def test_every_column_is_the_cost_of_that_dish_version_and_day(book: Book) -> None:
    asked = [("leek pie", "1"), ("leek pie", "2"), ("salad", None), ("soup", None)]
    for on in (date(2026, 11, 20), date(2026, 11, 24), date(2026, 3, 1)):
        found = side_by_side(book, asked, on=on)
        for (dish, version), column in zip(asked, found.columns, strict=True):
            cost = cost_dish(book, dish, on=on, version=version)
            for name in ("dish", "version", "version_in_force", "cost_per_portion", "complete"):
                assert column[name] == cost[name]
            assert column.display == cost.display
            assert column.allergens == cost.allergens


def test_the_order_of_the_columns_never_matters(book: Book) -> None:
    names = ("leek pie@1", "leek pie@2", "salad", "soup")
    first = {name: side_by_side(book, [name, other], on=ON).columns[0]
             for name, other in zip(names, names[1:] + names[:1], strict=True)}  # fmt: skip
    pairs: dict[tuple[str, str], Any] = {}
    for order in itertools.permutations(names):
        columns = side_by_side(book, order, on=ON).columns
        for name, column in zip(order, columns, strict=True):
            told = {key: column[key] for key in column if key != "against_first"}
            assert told == {key: first[name][key] for key in told}
            pairs.setdefault((order[0], name), column.against_first)
            assert pairs[order[0], name] == column.against_first
    for (one, two), more in pairs.items():
        if one == two:
            assert more is None
            continue
        back = pairs[two, one]
        for name in (
            "cost_per_portion",
            "minutes",
            "minutes_waiting",
            "energy_kwh",
            "pots",
            "mark",
        ):
            assert (more[name] is None) == (back[name] is None)
            assert more[name] is None or more[name] == pytest.approx(-back[name])


@pytest.mark.parametrize(
    ("dishes", "more", "says"),
    [
        (["leek pie"], {}, "Found 1 to lay side by side; expected 2 to 4"),
        (["leek pie@1", "leek pie@2", "salad", "soup"], {"add": ["salad"]}, "Found 5 to lay"),
        ([], {"add": ["salad", "soup"]}, "Found 2 to lay"),
        (["leek pie", "leek pie@2"], {}, "Found 'leek pie', version 2, twice"),
        (
            ["leek pie"],
            {"exchange": [("lard pastry", "butter pastry")]},
            "Found no 'lard pastry' in 'leek pie', version 2; expected one of butter pastry",
        ),
        (
            ["salad"],
            {"exchange": [("lard pastry", "butter pastry")]},
            "expected a version with dishes in it",
        ),
        (
            ["leek pie"],
            {"exchange": [("butter pastry", "parcel")]},
            "Found 'parcel', which takes 'leek pie'",
        ),
        (["leek pie"], {"add": ["parcel"]}, "Found 'parcel', which takes 'leek pie'"),
        (["leek pie"], {"add": ["leek pie"]}, "Found 'leek pie', which takes 'leek pie'"),
        (["parcel"], {"exchange": [("butter pastry", "leek pie")]}, "takes 'butter pastry' itself"),
        (["leek pie"], {"add": [("salad", "2 kg")]}, "Found '2 kg' of 'salad'; expected portions"),
        (["leek pie"], {"add": [("salad", "80")]}, "Found '80' of 'salad'; expected portions"),
    ],
)
def test_what_cannot_be_laid_side_by_side_is_one_sentence(
    book: Book, dishes: list[str], more: dict[str, Any], says: str
) -> None:
    with pytest.raises(InputRefused) as refused:
        side_by_side(book, dishes, on=ON, **more)
    assert says in str(refused.value)


def test_unknown_names_offer_the_nearest(book: Book) -> None:
    with pytest.raises(UnknownName, match="Nearest: leek pie"):
        side_by_side(book, ["leak pie", "salad"], on=ON)
    with pytest.raises(UnknownName, match="It has: 1, 2"):
        side_by_side(book, ["leek pie@3", "salad"], on=ON)
    with pytest.raises(UnknownName, match="Nearest: lard pastry"):
        side_by_side(book, ["leek pie"], on=ON, exchange=[("butter pastry", "lard pasty")])


def test_nothing_of_a_dish_is_no_addition(book: Book) -> None:
    with pytest.raises(MeasureRefused, match="expected a number above 0"):
        side_by_side(book, ["leek pie"], on=ON, add=[("salad", "0 g")])


def test_a_weight_needs_the_weight_of_a_batch(book: Book) -> None:
    with pytest.raises(RecipeRefused, match="expected a batch_weight_g in version 1 of 'soup'"):
        side_by_side(book, ["leek pie"], on=ON, add=[("soup", "80 g")])
