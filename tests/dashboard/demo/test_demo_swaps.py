"""What the demo kitchen teaches about swaps: checked by hand from its receipts."""

from __future__ import annotations

from datetime import date

import pytest

from pricing.book.connect import Book, reading
from pricing.contents.choices import list_dishes
from pricing.dishes.cost import cost_dish
from pricing.swaps.of_catalogue import catalogue_swaps, dishes_over_target
from pricing.swaps.of_dish import find_swaps
from pricing.swaps.records import SwapChoice
from tests.dashboard.demo.by_hand import both, mean
from tests.dashboard.demo.by_oracle import prices
from tests.kitchen import TODAY


def swap(demo: Book, dish: str, substitute: str, ingredient: str, on: date = TODAY) -> SwapChoice:
    found = find_swaps(demo, dish, on=on).swaps
    (one,) = [s for s in found if (s.ingredient, s.substitute) == (ingredient, substitute)]
    return one


def test_there_are_enough_swaps(demo: Book) -> None:
    with reading(demo) as con:
        (many,) = con.execute("SELECT count(*) FROM swap_now").fetchone() or (0,)
    assert many >= 40


def test_one_became_cheaper_only_in_a_certain_year(demo: Book) -> None:
    """Cheddar for olives, ounce by ounce, from the grocer's and the warehouse's receipts."""
    salad = "green bean, potato and tuna salad"
    # 2 May 2020: olives 1.89 for 6 oz = 0.315, cheddar 2.79 for 8 oz = 0.349
    old = swap(demo, salad, "sharp cheddar", "green olives", date(2020, 5, 2))
    ounces = old.quantity / 28.349523125
    assert old.saving == pytest.approx(ounces * (1.89 / 6 - 2.79 / 8), abs=1e-9)
    assert old.saving is not None
    assert old.saving < 0
    # 24 October 2026: olives 2.69 for 6 oz = 0.448, and 21 oz at 6.29 of January 2022 moved
    # from 158.726 to 208.682; cheddar 2.99 for 8 oz, and three days before 11.49 for 32 oz
    trip = date(2026, 10, 24)
    new = swap(demo, salad, "sharp cheddar", "green olives", trip)
    olives = mean(trip, (2.69 / 6, trip), (6.29 / 21 * 208.682 / 158.726, date(2022, 1, 13)))
    cheddar = mean(trip, (2.99 / 8, trip), (11.49 / 32, date(2026, 10, 21)))
    assert new.saving == pytest.approx(ounces * (olives - cheddar), abs=1e-7)
    # demo_prices/README.md: since February 2024. By the slow rule, gram for gram
    assert new.cheaper_since == date(2024, 2, 10)
    for day, cheaper in ((date(2024, 2, 9), False), (date(2024, 2, 10), True)):
        slow = prices(demo, ["green olives", "sharp cheddar"], day)
        a_gram = [slow[name].unit_price or 0.0 for name in ("green olives", "sharp cheddar")]
        assert (a_gram[1] < a_gram[0]) is cheaper, day
    assert not new.since_first_seen


def test_one_adds_an_allergen_and_of_one_it_is_unknown(demo: Book) -> None:
    tahini = swap(demo, "peanut noodles with cabbage", "tahini", "peanut butter")
    assert tahini.allergens_added == ("sesame",)
    bouillon = swap(demo, "mushroom and rye bake", "vegetable bouillon", "chicken broth")
    assert bouillon.allergens_added == "unknown"


def test_one_is_too_close_to_call(demo: Book) -> None:
    spaghetti = swap(demo, "macaroni and cheddar bake", "spaghetti", "elbow macaroni")
    # the grocer asks 1.49 a pound for both; by the case of six, four days before, 8.49 and 8.29
    a_pound = both(1.49, 8.49 / 6) - both(1.49, 8.29 / 6)
    assert spaghetti.saving == pytest.approx(spaghetti.quantity / 453.59237 * a_pound, abs=1e-9)
    assert spaghetti.too_close
    turkey = swap(demo, "beef and oat meatloaf", "mushrooms", "ground turkey")
    assert turkey.basis == "bridged"  # turkey was last priced in March
    assert turkey.typical_error is not None


def test_swaps_to_nothing_to_less_to_a_purchase_and_to_a_dish_are_among_them(demo: Book) -> None:
    cake = swap(demo, "cocoa and coffee sheet cake", "leave out", "walnuts")
    assert cake.substitute_quantity == 0
    stew = swap(demo, "cod and mussel stew", "mussels", "mussels")
    assert stew.saving == pytest.approx(0.25 * stew.quantity * (stew.price.unit_price or 0))
    tray = swap(demo, "baked eggs in tomato and pepper sauce", "eggs", "eggs")
    assert tray.substitute_price is not None
    # 30 eggs for 5.79 at the warehouse
    assert tray.substitute_price.unit_price == pytest.approx(5.79 / 30)
    sauce = swap(demo, "chicken and carrot pot pie", "dish:white sauce", "heavy cream")
    assert sauce.saving is not None
    assert sauce.substitute_base == "g"


def test_the_dishes_over_their_target_are_those_that_cost_more_one_by_one(demo: Book) -> None:
    for on in (TODAY, date(2019, 3, 1)):
        over = {}
        for dish in list_dishes(demo):
            begun = [each for each in dish.versions if each.effective_from <= on]
            version = (begun or dish.versions)[-1 if begun else 0]
            cost = cost_dish(demo, dish.dish, on=on, version=version.version)
            drafted = dish.versions[0].effective_from > TODAY
            if (
                version.target is not None
                and cost.cost_per_portion > version.target
                and not drafted
            ):
                over[dish.dish] = cost.cost_per_portion
        found = dishes_over_target(demo, on=on)
        assert over
        assert {each.dish: each.cost_per_portion for each in found} == pytest.approx(over)
        assert found == catalogue_swaps(demo, on=on).over_target
