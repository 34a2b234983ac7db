"""What drove the catalogue: a small kitchen worked out by pencil."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import pricing
from pricing.book.connect import Book
from pricing.change.what_if import cost_if
from pricing.errors import DateRefused, InputRefused, UnknownName
from pricing.prices.swings import price_swings
from tests.kitchen import make_book

THEN, NOW = date(2020, 1, 20), date(2022, 1, 20)
FILES = {
    "index": """
        series,month,value,title,parent
        t:butter,2020-01,100,"Butter, invented",
        t:butter,2022-01,130,"Butter, invented",
        t:late,2021-01,100,Late,
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
    return make_book(tmp_path_factory.mktemp("drivers"), FILES)


def test_by_pencil(book: Book) -> None:
    found = pricing.rank_drivers(book, then=THEN, now=NOW)
    # A portion of pastry takes 100 g flour and 50 g butter, one of pie then a whole portion of
    # pastry and 250 g leek, one of pie now half a portion of pastry and 50 g cream.
    # Means over the two dishes: flour 100 → 75 g, butter 50 → 37.5, leek 125 → 0, cream 0 → 25.
    # Prices a gram: flour 0.001 → 0.0015, butter 0.008 → 0.010, leek only now 0.003, cream 0.005.
    by_name = {each.ingredient: each for each in found.ingredients}
    assert found.dishes == 2
    assert found.mean_then == pytest.approx(100 * 0.001 + 50 * 0.008 + 125 * 0.003)  # 0.875
    assert found.mean_now == pytest.approx(75 * 0.0015 + 37.5 * 0.010 + 25 * 0.005)  # 0.6125
    assert found.change == pytest.approx(0.6125 - 0.875)
    expected = {  # price ½(a0+a1)(u1−u0), recipe ½(u0+u1)(a1−a0)
        "flour": (87.5 * 0.0005, 0.00125 * -25),
        "butter": (43.75 * 0.002, 0.009 * -12.5),
        "leek": (0.0, 0.003 * -125),
        "cream": (0.0, 0.005 * 25),
    }
    for name, (price, recipe) in expected.items():
        assert by_name[name].price_effect == pytest.approx(price), name
        assert by_name[name].recipe_effect == pytest.approx(recipe), name
        assert by_name[name].contribution == pytest.approx(price + recipe), name
    # ranked by size: leek −0.375, cream +0.125, butter −0.025, flour +0.0125
    assert [each.ingredient for each in found.ingredients] == ["leek", "cream", "butter", "flour"]
    assert {name: each.dishes for name, each in by_name.items()} == {
        "leek": 1, "cream": 1, "butter": 2, "flour": 2,
    }  # fmt: skip
    assert by_name["butter"].share_now == pytest.approx(0.375 / 0.6125)
    assert by_name["butter"].price_relative == pytest.approx(1.25)
    assert by_name["leek"].price_relative is None
    assert by_name["butter"].official_relative == pytest.approx(1.3)
    assert by_name["cream"].official_relative is None  # its series begins after the first month
    assert by_name["cream"].series == "t:late"
    assert by_name["leek"].marked
    assert not by_name["butter"].marked
    assert (by_name["leek"].basis_then, by_name["leek"].basis_now) == ("missing", "observed")
    assert by_name["butter"].category == "dairy"
    assert found.complete


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
    back = pricing.rank_drivers(book, then=NOW, now=THEN)
    there = pricing.rank_drivers(book, then=THEN, now=NOW)
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
    book = make_book(tmp_path, {**FILES, "dishes": dishes})
    found = pricing.rank_drivers(book, then=THEN, now=NOW)
    assert (found.complete, found.incomplete_dishes) == (False, ("paella",))
    saffron = next(each for each in found.ingredients if each.ingredient == "saffron")
    assert (saffron.contribution, saffron.marked, saffron.dishes) == (0, True, 1)


def test_an_empty_book(tmp_path: Path) -> None:
    found = pricing.rank_drivers(make_book(tmp_path), then=THEN, now=NOW)
    assert (found.dishes, found.ingredients, found.complete) == (0, (), True)


def test_what_if(book: Book) -> None:
    found = cost_if(book, ["butter=+20%"], on=NOW)
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
