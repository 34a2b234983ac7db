"""Then and now of one dish, by pencil: corners, what is left out, and which sub-recipes count."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

import pricing
from pricing.book.connect import Book, writing
from pricing.change.shown import shown, shown_comparison
from tests.kitchen import make_book

THEN, NOW = date(2020, 1, 20), date(2022, 1, 20)
# a kg:   cod    leek   cream  lemon  samphire  chives   and no series that would move a price
# then    10.00  2.00   4.00   —      —         —
# now     15.00  3.00   5.00   2.00   30.00     —
FILES = {
    "ingredients": """
        ingredient,base
        cod,g
        leek,g
        cream,g
        lemon,g
        samphire,g
        chives,g
    """,
    "prices": """
        ingredient,date,price,currency,pack
        cod,2020-01-10,10.00,USD,1 kg
        leek,2020-01-10,2.00,USD,1 kg
        cream,2020-01-10,4.00,USD,1 kg
        cod,2022-01-10,15.00,USD,1 kg
        leek,2022-01-10,3.00,USD,1 kg
        cream,2022-01-10,5.00,USD,1 kg
        lemon,2022-01-10,2.00,USD,1 kg
        samphire,2022-01-10,30.00,USD,1 kg
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        sauce,1,2019-01-01,2,cream,200,g
        sauce,2,2021-01-01,2,cream,100,g
        pie,1,2019-01-01,1,cod,100,g
        pie,1,2019-01-01,1,lemon,50,g
        pie,1,2019-01-01,1,dish:sauce,1,portion
        pie,2,2021-01-01,1,cod,60,g
        pie,2,2021-01-01,1,leek,100,g
        pie,2,2021-01-01,1,samphire,10,g
        pie,2,2021-01-01,1,dish:sauce,1,portion
        herb pie,1,2019-01-01,1,cod,100,g
        herb pie,2,2021-01-01,1,cod,100,g
        herb pie,2,2021-01-01,1,chives,5,g
    """,
}


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return make_book(tmp_path_factory.mktemp("compare"), FILES, series=())


def test_first_prices_then_the_recipe(book: Book) -> None:
    found = pricing.compare(book, "pie", then=THEN, now=NOW)
    # Without the lemon, which has no price then. Then: 100 g cod 1.00 + 100 g cream 0.40 = 1.40;
    # the same now 1.50 + 0.50 = 2.00. The pie of now: 60 g cod 0.90, 100 g leek 0.30, 10 g samphire
    # 0.30 and, the sauce having changed too, 50 g cream 0.25 = 1.75.
    cost = found.corners
    assert (cost.then_recipe_then, cost.then_recipe_now) == pytest.approx((1.40, 2.00))
    assert cost.now_recipe_then is None  # nobody knows what samphire cost then
    assert cost.now_recipe_now == pytest.approx(1.75)
    assert (found.price_effect, found.recipe_effect) == pytest.approx((0.60, -0.25))
    assert found.change == pytest.approx(0.35)
    effects = {p.ingredient: (p.price_effect, p.recipe_effect) for p in found.compared}
    assert effects == {
        "cod": pytest.approx((0.50, -0.60)),
        "cream": pytest.approx((0.10, -0.25)),
        "leek": pytest.approx((0, 0.30)),
        "samphire": pytest.approx((0, 0.30)),
    }
    assert (found.rebased_own.amount, found.rebased_own.factor) == pytest.approx((2.00, 2 / 1.4))


def test_what_cannot_be_compared_is_left_out_and_named(book: Book) -> None:
    found = pricing.compare(book, "pie", then=THEN, now=NOW)
    assert not found.complete
    (lemon,) = found.left_out
    assert (lemon.ingredient, lemon.reason) == (
        "lemon",
        "lemon was first seen on 10 January 2022, and no official series of the book reaches from "
        "then to 20 January 2020.",
    )
    part = found.ingredients[-1]
    assert (part.ingredient, part.left_out) == ("lemon", True)
    assert (part.price_effect, part.recipe_effect) == (None, None)
    assert (part.unit_price_then, part.unit_price_now) == (None, pytest.approx(0.002))
    # of the new recipe, what has no price now; all corners are known then
    herbs = pricing.compare(book, "herb pie", then=THEN, now=NOW)
    assert [each.ingredient for each in herbs.left_out] == ["chives"]
    assert herbs.left_out[0].reason.startswith("No price of chives is in the book.")
    assert herbs.corners.now_recipe_then == pytest.approx(1.00)
    # what only the new recipe takes needs no price then
    later = pricing.compare(book, "pie", then=(NOW, "2"), now=NOW)
    assert (later.complete, later.change) == (True, 0)


def test_the_keys_that_were_promised(book: Book) -> None:
    found: dict[str, Any] = pricing.compare(book, "pie", then=THEN, now=NOW).as_json()
    assert found["then"].keys() >= {"on", "version", "recipe_day"}
    assert found["now"]["recipe_day"] == "2022-01-20"
    assert found["corners"].keys() == {
        "then_recipe_then", "then_recipe_now", "now_recipe_then", "now_recipe_now",
    }  # fmt: skip
    assert found["corners"]["now_recipe_then"] is None
    assert found["left_out"][0].keys() == {"ingredient", "reason"}
    for part in found["ingredients"]:
        assert part.keys() >= {
            "ingredient", "quantity_then", "quantity_now", "unit_price_then", "unit_price_now",
            "price_effect", "recipe_effect", "marked", "left_out",
        }  # fmt: skip
    assert found["ingredients"][-1]["price_effect"] is None


def test_the_recipe_day_of_then_stays_with_the_old_recipe(book: Book) -> None:
    found = pricing.compare(book, "pie", then=THEN, now=NOW)
    assert (found.then.recipe_day, found.now.recipe_day) == (THEN, NOW)
    # version 1 at prices of now on both sides: with the sauce of its last day in force
    again = pricing.compare(book, "pie", then=(NOW, "1"), now=(NOW, "1"))
    assert again.then.recipe_day == date(2020, 12, 31)
    # 1.50 cod, 100 g cream 0.50 and, now that it has a price, 50 g lemon 0.10
    assert again.corners.then_recipe_now == pytest.approx(2.10)
    asked = pricing.compare(book, "pie", then=(NOW, "1"), now=NOW, recipe_day=date(2021, 6, 1))
    assert asked.then.recipe_day == date(2021, 6, 1)
    assert asked.corners.then_recipe_now == pytest.approx(1.50 + 0.25 + 0.10)
    assert asked.now.recipe_day == NOW


def test_an_amount_that_is_not_known_is_left_out(tmp_path: Path) -> None:
    files = {
        "ingredients": "ingredient,base\ncod,g\nleek,g",
        "measures": "ingredient,measure,grams\nleek,stalk,150",
        "prices": """
            ingredient,date,price,currency,pack
            cod,2020-01-10,10.00,USD,1 kg
            leek,2020-01-10,2.00,USD,1 kg
        """,
        "dishes": """
            dish,version,effective_from,portions,ingredient,quantity,unit
            pie,1,2019-01-01,1,cod,100,g
            pie,1,2019-01-01,1,leek,1,stalk
        """,
    }
    book = make_book(tmp_path, files, series=())
    with writing(book) as con:  # a load would not let the measure go
        con.execute("INSERT INTO retraction SELECT row_id, '2020-01-01', 'undone' FROM measure")
    found = pricing.compare(book, "pie", then=THEN, now=NOW)
    (leek,) = found.left_out
    assert leek.reason.startswith("An amount of leek cannot be turned into g:")
    assert (found.ingredients[-1].ingredient, found.ingredients[-1].quantity_then) == ("leek", None)
    assert found.corners.then_recipe_now == pytest.approx(1.00)
    (again,) = pricing.rank_drivers(book, then=THEN, now=NOW).left_out
    assert (again.reason, again.dishes) == (leek.reason, 1)


def test_shown_figures_are_differences_of_shown_corners(book: Book) -> None:
    # 1.004 → 1.00, 1.208 → 1.21, 1.006 → 1.01: the change and its parts are what a reader subtracts
    change = shown("USD", 1.004, 1.208, 1.006)
    assert [str(each) for each in (change.change, change.by_price, change.by_recipe)] == [
        "0.01", "0.21", "-0.20",
    ]  # fmt: skip
    whole = shown_comparison(pricing.compare(book, "pie", then=THEN, now=NOW))
    assert (str(whole.then), str(whole.moved), str(whole.now)) == ("1.40", "2.00", "1.75")


def test_shown_parts_add_up_to_shown_effects(tmp_path: Path) -> None:
    # Three herbs, 4.96667 g of each: 14.9 g, 0.0149 then, shown as 0.01; 0.015198 now, shown as
    # 0.02: a cent between them, of a rise of 0.0003. In a batch for three instead of two, and a
    # third of the last herb: 7.73 g, 0.0079, shown as 0.01.
    names = ("dill", "mint", "sage")
    first = "\n".join(f"tea,1,2019-01-01,2,{name},9.9333,g" for name in names)
    rows = zip(names, (9.9333, 9.9333, 3.3111), strict=True)
    last = "\n".join(f"tea,2,2021-01-01,3,{name},{amount},g" for name, amount in rows)
    files = {
        "ingredients": "\n".join(["ingredient,base", *(f"{name},g" for name in names)]),
        "prices": "\n".join(
            [
                "ingredient,date,price,currency,pack",
                *(f"{name},2020-01-10,1.00,USD,1 kg" for name in names),
                *(f"{name},2022-01-10,1.02,USD,1 kg" for name in names),
            ]
        ),
        "dishes": "\n".join(
            ["dish,version,effective_from,portions,ingredient,quantity,unit", first, last]
        ),
    }
    book = make_book(tmp_path, files, series=())
    whole = shown_comparison(pricing.compare(book, "tea", then=THEN, now=NOW))
    assert [str(each) for each in (whole.then, whole.moved, whole.now)] == ["0.01", "0.02", "0.01"]
    assert sum(whole.prices.values()) == whole.by_price
    assert sum(whole.recipes.values()) == whole.by_recipe
    assert sum(whole.recipe_parts.values()) + whole.portions == whole.by_recipe
    every = ("amount", "trim", "portions", "added", "dropped", "swapped")
    assert sum(whole.recipe_part(each) for each in every) == whole.by_recipe
