"""What drove the catalogue: a small kitchen worked out by pencil."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import pricing
from pricing.book.connect import Book
from pricing.change.what_if import cost_if
from pricing.contents.settings import change_setting
from pricing.errors import DateRefused, InputRefused, UnknownName
from pricing.prices.swings import price_swings
from tests.kitchen import make_book

THEN, NOW = date(2020, 1, 20), date(2022, 1, 20)
BOTH = ["pastry", "pie"]  # the pastry is a half-product: it counts when it is named
FILES = {
    "index": """
        series,month,value,title,parent
        t:food,2020-01,100,Food,
        t:food,2022-01,110,Food,
        t:butter,2020-01,100,"Butter, invented",
        t:butter,2022-01,130,"Butter, invented",
        t:late,2021-01,100,Late,t:food
    """,
    "ingredients": """
        ingredient,category,base,series
        butter,dairy,g,t:butter
        cream,dairy,g,t:late
        flour,baking,g,
        leek,,g,
        saffron,,g,
    """,
    "prices": """
        ingredient,date,price,currency,pack,supplier,product
        butter,2020-01-10,4.00,USD,500 g,Quay,Skerry butter
        butter,2022-01-10,4.00,USD,400 g,Quay,Skerry butter
        flour,2020-01-10,1.00,USD,1 kg,Quay,
        flour,2022-01-10,1.50,USD,1 kg,Quay,
        leek,2022-01-10,3.00,USD,1 kg,Quay,
        cream,2020-01-10,5.00,USD,1 kg,Quay,
        cream,2022-01-10,5.00,USD,1 kg,Quay,
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        pastry,1,2019-01-01,4,flour,400,g
        pastry,1,2019-01-01,4,butter,200,g
        pie,1,2019-01-01,2,dish:pastry,2,portion
        pie,1,2019-01-01,2,leek,500,g
        pie,2,2021-01-01,4,dish:pastry,2,portion
        pie,2,2021-01-01,4,cream,200,g
    """,
}


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return make_book(tmp_path_factory.mktemp("drivers"), FILES, series=())


def test_by_pencil(book: Book) -> None:
    found = pricing.rank_drivers(book, BOTH, then=THEN, now=NOW)
    # A portion of pastry takes 100 g flour and 50 g butter, one of pie then a whole portion of
    # pastry and 250 g leek, one of pie now half a portion of pastry and 50 g cream.
    # Means over the two dishes: flour 100 → 75 g, butter 50 → 37.5, leek 125 → 0, cream 0 → 25.
    # Prices a gram: flour 0.001 → 0.0015, butter 0.008 → 0.010, leek only now 0.003, cream 0.005.
    by_name = {each.ingredient: each for each in found.ingredients}
    assert found.dishes == 2
    # The leek of then cannot be compared: nobody knows what it cost then.
    assert found.mean_then == pytest.approx(100 * 0.001 + 50 * 0.008)  # 0.50
    assert found.mean_now == pytest.approx(75 * 0.0015 + 37.5 * 0.010 + 25 * 0.005)  # 0.6125
    assert found.change == pytest.approx(0.6125 - 0.50)
    expected = {  # price a0 (u1 − u0), recipe (a1 − a0) u1
        "flour": (100 * 0.0005, 0.0015 * -25),
        "butter": (50 * 0.002, 0.010 * -12.5),
        "cream": (0.0, 0.005 * 25),
    }
    for name, (price, recipe) in expected.items():
        assert by_name[name].price_effect == pytest.approx(price), name
        assert by_name[name].recipe_effect == pytest.approx(recipe), name
        assert by_name[name].contribution == pytest.approx(price + recipe), name
    # ranked by size: cream +0.125, butter −0.025, flour +0.0125
    assert [each.ingredient for each in found.ingredients] == ["cream", "butter", "flour"]
    assert {name: each.dishes for name, each in by_name.items()} == {
        "cream": 1, "butter": 2, "flour": 2,
    }  # fmt: skip
    assert by_name["butter"].share_now == pytest.approx(0.375 / 0.6125)
    assert by_name["butter"].price_relative == pytest.approx(1.25)
    assert by_name["butter"].official_relative == pytest.approx(1.3)
    # cream's series begins after the first month: the wider one stands in
    assert by_name["cream"].official_relative == pytest.approx(1.1)
    assert (by_name["cream"].series, by_name["cream"].series_title) == ("t:food", "Food")
    assert (by_name["flour"].official_relative, by_name["flour"].series) == (None, None)
    assert not any(each.marked for each in found.ingredients)
    assert by_name["butter"].category == "dairy"


def test_drivers_without_a_price_then(book: Book) -> None:
    found = pricing.rank_drivers(book, then=THEN, now=NOW)
    (leek,) = found.left_out
    assert (leek.ingredient, leek.dishes) == ("leek", 1)
    assert leek.reason == (
        "leek was first seen on 10 January 2022, and no official series of the book reaches from "
        "then to 20 January 2020."
    )
    assert "leek" not in {each.ingredient for each in found.ingredients}
    assert (found.complete, found.incomplete_dishes) == (False, ("pie",))
    # what is new needs no price of then: backwards, the leek is new in the pie
    back = pricing.rank_drivers(book, ["pie"], then=NOW, now=THEN)
    assert [each.ingredient for each in back.left_out] == ["leek"]  # without a price on that day
    then, now = date(2021, 6, 1), NOW
    assert pricing.rank_drivers(book, ["pie"], then=then, now=now).complete


def test_the_last_rungs_are_the_books_food_series(tmp_path: Path) -> None:
    book = make_book(tmp_path, FILES, series=())
    change_setting(book, "food_series", "t:food")
    found = pricing.rank_drivers(book, BOTH, then=THEN, now=NOW)
    by_name = {each.ingredient: each for each in found.ingredients}
    # leek then, moved back by food: 0.003 · 100/110; it names no series, but food serves it
    assert found.left_out == ()
    assert by_name["leek"].recipe_effect == pytest.approx(-125 * 0.003)
    assert by_name["leek"].price_effect == pytest.approx(125 * 0.003 * (1 - 100 / 110))
    assert (by_name["leek"].series, by_name["leek"].basis_then) == ("t:food", "bridged")
    assert by_name["flour"].official_relative == pytest.approx(1.1)
    assert by_name["butter"].series == "t:butter"


def test_a_draft_dish_does_not_count(tmp_path: Path) -> None:
    drafts = FILES["dishes"].rstrip() + "\n        trifle,1,2027-01-01,1,cream,500,g\n"
    with_draft = make_book(tmp_path, {**FILES, "dishes": drafts}, series=())
    found = pricing.rank_drivers(with_draft, [*BOTH, "trifle"], then=THEN, now=NOW)
    assert (found.dishes, found.drafts) == (2, ("trifle",))
    assert found.mean_now == pytest.approx(0.6125)  # as without it
    named = pricing.rank_drivers(with_draft, ["trifle"], then=THEN, now=NOW)
    assert (named.dishes, named.drafts) == (0, ("trifle",))
    assert [each.dish for each in cost_if(with_draft, ["butter=+20%"], on=NOW).dishes] == [
        "pie",
    ]  # fmt: skip
    # it can be compared by name
    trifle = pricing.compare(with_draft, "trifle", then=THEN, now=NOW)
    assert trifle.corners.now_recipe_now == pytest.approx(500 * 0.005)
    assert trifle.now.recipe_day == date(2027, 1, 1)


def test_json_has_the_keys_that_were_promised(book: Book) -> None:
    found = pricing.rank_drivers(book, then=THEN, now=NOW).as_json()
    assert found.keys() >= {
        "currency", "then", "now", "dishes", "mean_then", "mean_now", "ingredients",
    }  # fmt: skip
    assert isinstance(found["ingredients"], list)
    assert found["ingredients"][0].keys() >= {
        "ingredient", "contribution", "price_effect", "recipe_effect", "price_relative", "dishes",
        "share_now", "official_relative", "series",
    }  # fmt: skip
    assert (found["then"], found["now"]) == ("2020-01-20", "2022-01-20")


def test_some_dishes_only_and_the_same_day_twice(book: Book) -> None:
    pastry = pricing.rank_drivers(book, ["PASTRY"], then=THEN, now=NOW)
    assert pastry.dishes == 1
    assert pastry.mean_now == pytest.approx(100 * 0.0015 + 50 * 0.010)
    still = pricing.rank_drivers(book, then=NOW, now=NOW)
    assert still.change == 0
    assert all(each.contribution == 0 for each in still.ingredients)
    back = pricing.rank_drivers(book, ["pastry"], then=NOW, now=THEN)
    there = pricing.rank_drivers(book, ["pastry"], then=THEN, now=NOW)
    assert back.change == pytest.approx(-there.change)


def test_the_order_of_the_dishes_changes_nothing(book: Book) -> None:
    one, other = (
        pricing.rank_drivers(book, dishes, then=THEN, now=NOW)
        for dishes in (["pastry", "pie"], ["pie", "pastry"])
    )
    assert [each.ingredient for each in one.ingredients] == [
        each.ingredient for each in other.ingredients
    ]
    for before, after in zip(one.ingredients, other.ingredients, strict=True):
        assert after.contribution == pytest.approx(before.contribution, abs=1e-12)
    assert (other.mean_then, other.mean_now) == pytest.approx((one.mean_then, one.mean_now))


def test_a_shrunken_pack_is_found(book: Book) -> None:
    found = pricing.rank_drivers(book, then=THEN, now=NOW)
    (change,) = next(
        each for each in found.ingredients if each.ingredient == "butter"
    ).packs_changed
    assert (change.pack_before, change.pack_after) == ("500 g", "400 g")
    assert (change.price_before, change.price_after) == (4.0, 4.0)
    assert change.size_relative == pytest.approx(0.8)
    assert change.unit_relative == pytest.approx(1.25)  # 500 g → 400 g at 4.00 is +25 % a gram


def test_refusals(book: Book) -> None:
    with pytest.raises(DateRefused, match="after today"):
        pricing.rank_drivers(book, then=THEN, now=date(2026, 11, 25))
    with pytest.raises(UnknownName, match="Nearest: pie"):
        pricing.rank_drivers(book, ["pies"], then=THEN, now=NOW)


def test_a_line_without_any_price_is_named(tmp_path: Path) -> None:
    dishes = FILES["dishes"].rstrip() + "\n        paella,1,2019-01-01,1,saffron,1,g\n"
    book = make_book(tmp_path, {**FILES, "dishes": dishes}, series=())
    found = pricing.rank_drivers(book, ["paella", "pastry"], then=THEN, now=NOW)
    assert (found.complete, found.incomplete_dishes) == (False, ("paella",))
    (saffron,) = found.left_out
    assert (saffron.ingredient, saffron.dishes) == ("saffron", 1)
    assert saffron.reason.startswith("No price of saffron is in the book.")


def test_an_empty_book(tmp_path: Path) -> None:
    found = pricing.rank_drivers(make_book(tmp_path), then=THEN, now=NOW)
    assert (found.dishes, found.ingredients, found.complete) == (0, (), True)


def test_what_if(book: Book) -> None:
    found = cost_if(book, ["butter=+20%"], BOTH, on=NOW)
    # pastry 0.15 + 0.50: butter a fifth more is +0.10; pie takes half of it: +0.05
    assert [(each.dish, pytest.approx(each.change)) for each in found.dishes] == [
        ("pastry", pytest.approx(0.10)),
        ("pie", pytest.approx(0.05)),
    ]
    assert found.mean_if - found.mean_now == pytest.approx(0.075)
    dairy = cost_if(book, ["dairy = -10 %", "butter=+100%"], ["pie"], on=NOW)
    # butter 0.25 × 0.9 × 2 = 0.45, cream 0.25 × 0.9 = 0.225: +0.20 − 0.025
    assert dairy.dishes[0].change == pytest.approx(0.175)
    assert dairy.changes[0].ingredients == ("butter", "cream")


@pytest.mark.parametrize(
    ("text", "error", "sentence"),
    [
        ("butter", InputRefused, r"NAME=\+20%"),
        ("butter=20%", InputRefused, r"NAME=\+20%"),
        ("butter=-100%", InputRefused, "above nothing"),
        ("buter=+5%", UnknownName, "Nearest: butter"),
    ],
)
def test_what_if_refuses(book: Book, text: str, error: type[Exception], sentence: str) -> None:
    with pytest.raises(error, match=sentence):
        cost_if(book, [text], on=NOW)


def test_swings(tmp_path: Path) -> None:
    book = make_book(
        tmp_path,
        {
            "ingredients": "ingredient,base\neggs,each\nsalt,g",
            "prices": """
                ingredient,date,price,currency,pack
                eggs,2020-01-10,1.00,USD,1 each
                eggs,2020-02-10,2.00,USD,1 each
                eggs,2020-03-10,1.00,USD,1 each
                salt,2020-01-10,1.00,USD,1 kg
            """,
        },
        series=(),
    )
    eggs, salt = price_swings(book, start="2020-01", end="2020-03")
    # log changes +ln 2 and −ln 2: mean 0, standard deviation √2 · ln 2 = 0.980258
    assert eggs.volatility_pct == pytest.approx(98.0258, abs=1e-4)
    assert (eggs.largest_rise_pct, eggs.largest_fall_pct) == (
        pytest.approx(100),
        pytest.approx(-50),
    )
    assert (eggs.months, eggs.bridged_share) == (3, 0)
    assert salt.volatility_pct == 0  # held as it was: no series is named
