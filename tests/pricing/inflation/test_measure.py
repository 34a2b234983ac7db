"""The kitchen's own index: a small kitchen worked out by pencil."""

from __future__ import annotations

from math import sqrt
from pathlib import Path

import pytest

import pricing
from pricing.book.connect import Book
from pricing.errors import DateRefused
from tests.kitchen import make_book

FILES = {
    "index": """
        series,month,value,title
        t:flour,2020-01,100,Flour
        t:flour,2021-01,150,Flour
        t:flour,2021-02,120,Flour
    """,
    "ingredients": """
        ingredient,category,base,series
        flour,baking,g,t:flour
        butter,dairy,g,
        leek,,g,
        mint,,g,
    """,
    # Every price is seen in the first half of each month asked about, at two shops for butter.
    "prices": """
        ingredient,date,price,currency,pack,supplier
        flour,2020-01-10,1.00,USD,1 kg,Quay
        flour,2021-01-10,1.50,USD,1 kg,Quay
        flour,2021-02-10,1.20,USD,1 kg,Quay
        butter,2020-01-10,8.00,USD,1 kg,Quay
        butter,2020-01-10,10.00,USD,1 kg,Mill
        butter,2021-01-10,8.80,USD,1 kg,Quay
        butter,2021-01-10,11.00,USD,1 kg,Mill
        butter,2021-02-10,8.80,USD,1 kg,Quay
        leek,2020-01-10,2.00,USD,1 kg,Quay
        mint,2021-01-05,9.00,USD,1 kg,Quay
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        pastry,1,2019-01-01,1,flour,100,g
        pastry,1,2019-01-01,1,butter,50,g
        pastry,2,2021-02-01,1,flour,100,g
        pastry,2,2021-02-01,1,butter,20,g
        soup,1,2019-01-01,2,leek,500,g
        tea,1,2019-01-01,1,mint,5,g
        tea,1,2019-01-01,1,leek,1,g
    """,
}

MILL = 2 ** (-31 / 180)  # how much Mill's price counts in February 2021, beside Quay's
BUTTER = (8.80 + MILL * 11.00) / (1 + MILL) / 1000  # then, a gram


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return make_book(tmp_path_factory.mktemp("inflation"), FILES, series=())


def test_by_pencil(book: Book) -> None:
    found = pricing.measure_inflation(book, start="2020-01", end="2021-02")
    # One portion of each dish in January 2020: flour 100 g at 0.001 = 0.10; butter 50 g at 0.009
    # (the mean of two shops) = 0.45; leek 250 + 1 g at 0.002 = 0.502. Mint has no price then.
    first, year, last = found.months[0], found.months[12], found.months[13]
    assert (first.month, year.month, last.month) == ("2020-01", "2021-01", "2021-02")
    base = 0.10 + 0.45 + 0.502
    assert found.cost_from == pytest.approx(base / 3)
    # January 2021: flour 0.0015, butter 0.0099, leek held: 0.15 + 0.495 + 0.502
    assert year.index == pytest.approx(100 * (0.15 + 0.495 + 0.502) / base)
    assert year.rate_12_pct == pytest.approx(100 * ((0.15 + 0.495 + 0.502) / base - 1))
    assert year.paasche == pytest.approx(year.index)  # the recipes were still the same
    # February 2021: flour 0.0012; butter on 10 February: Quay 8.80, and Mill's 11.00 of 31 days
    # before, which counts 2^(-31/180); the pastry of February takes 20 g of it
    assert last.index == pytest.approx(100 * (0.12 + 50 * BUTTER + 0.502) / base)
    later = 100 * (0.12 + 20 * BUTTER + 0.502) / (0.10 + 0.18 + 0.502)
    assert last.paasche == pytest.approx(later)
    assert last.fisher == pytest.approx(sqrt(last.index * later))
    assert (first.observed, first.bridged, first.held) == (3, 0, 0)
    assert (year.observed, year.bridged, year.held) == (2, 0, 1)  # leek: old, and no series
    assert found.formulas["laspeyres"] == pytest.approx(last.index)
    assert found.change_pct == pytest.approx(last.index - 100)


def test_missing_prices_are_left_out_of_every_month_and_named(book: Book) -> None:
    found = pricing.measure_inflation(book, start="2020-01", end="2021-02")
    (mint,) = found.left_out
    assert (mint.ingredient, mint.months_missing, mint.dishes) == ("mint", 12, 1)
    assert found.complete is False
    by_dish = {each.name: each for each in found.by_dish}
    assert {name: each.complete for name, each in by_dish.items()} == {
        "pastry": True, "soup": True, "tea": False,
    }  # fmt: skip
    assert by_dish["tea"].index == pytest.approx(100)  # of the leek alone


def test_parts_add_up(book: Book) -> None:
    found = pricing.measure_inflation(book, start="2020-01", end="2021-02")
    for groups in (found.by_category, found.by_dish, found.by_ingredient):
        assert sum(each.contribution for each in groups) == pytest.approx(
            found.change_pct, abs=1e-9
        )
        year = sum(each.contribution_12 or 0.0 for each in groups)
        assert year == pytest.approx(found.rate_12_pct, abs=1e-9)
        assert sum(each.share_from for each in groups) == pytest.approx(1)
    by_category = {each.name: each for each in found.by_category}
    base = 0.10 + 0.45 + 0.502
    assert by_category["baking"].contribution == pytest.approx(100 * 0.02 / base)
    assert by_category["dairy"].contribution == pytest.approx(100 * (50 * BUTTER - 0.45) / base)
    assert by_category["baking"].index == pytest.approx(120)
    assert by_category[None].contribution == 0
    assert found.rate_12_pct == pytest.approx(found.months[13].rate_12_pct)


def test_by_group_of_dishes(tmp_path: Path) -> None:
    dishes = """
        dish,version,effective_from,portions,group,ingredient,quantity,unit
        pastry,1,2019-01-01,1,baking day,flour,100,g
        pastry,1,2019-01-01,1,baking day,butter,50,g
        pastry,2,2021-02-01,1,Pies,flour,100,g
        pastry,2,2021-02-01,1,Pies,butter,20,g
        tart,1,2019-01-01,1,pies,flour,200,g
        buns,1,2019-01-01,1,,flour,100,g
    """
    book = make_book(tmp_path, {**FILES, "dishes": dishes}, series=())
    found = pricing.measure_inflation(book, start="2020-01", end="2021-02")
    # The recipes of January 2020 at $0.001 a g of flour, then 0.0012; butter 0.009 (the mean of 8
    # and 10 a kg), then BUTTER. Pastry 0.10 + 0.45 = 0.55, then 0.12 and the butter; tart 0.20,
    # then 0.24; buns 0.10, then 0.12.
    # Pastry counts by the group of its version in February 2021: Pies, which tart writes in small.
    pies, alone = found.by_group
    assert (pies.name, alone.name) == ("Pies", None)
    assert pies.index == pytest.approx(100 * (0.12 + 50 * BUTTER + 0.24) / 0.75)
    assert alone.index == pytest.approx(120)
    assert pies.contribution == pytest.approx(100 * (0.36 + 50 * BUTTER - 0.75) / 0.85)
    assert pies.contribution + alone.contribution == pytest.approx(found.change_pct)
    assert found.as_json()["by_group"][1]["name"] is None


def test_without_groups_there_is_no_split_by_them(book: Book) -> None:
    assert pricing.measure_inflation(book, start="2020-01", end="2021-02").by_group == ()


def test_matched_products_beside_the_typical_price(book: Book) -> None:
    found = pricing.measure_inflation(book, start="2020-01", end="2021-02")
    butter = next(each for each in found.by_ingredient if each.name == "butter")
    assert butter.matched is not None
    # both shops: 8.80/8.00 and 11.00/10.00; in between nothing was seen, so no chain holds
    assert butter.matched.sources == 2
    assert butter.matched.relative == pytest.approx(1.1)
    assert butter.matched.chained is None
    flour = next(each for each in found.by_ingredient if each.name == "flour")
    assert flour.official_relative == pytest.approx(1.2)
    assert (flour.category, flour.series) == ("baking", "t:flour")


def test_official_series_beside_it(tmp_path: Path) -> None:
    book = make_book(tmp_path, FILES)
    found = pricing.measure_inflation(book, start="2020-01", end="2021-02")
    # BLS: food at home 243.110 in January 2020; all items 257.971 then, 261.582 in January 2021
    assert found.months[12].official_all == pytest.approx(100 * 261.582 / 257.971, abs=1e-9)
    assert found.months[0].official_food == 100


def test_a_rate_over_twelve_months_is_against_the_same_month_of_the_year_before(
    tmp_path: Path,
) -> None:
    prices = """
        ingredient,date,price,currency,pack
        leek,2020-01-10,2.00,USD,1 kg
        leek,2020-02-10,4.00,USD,1 kg
        leek,2020-03-10,4.50,USD,1 kg
        leek,2020-12-10,6.00,USD,1 kg
        leek,2021-01-10,5.00,USD,1 kg
        leek,2021-02-10,3.00,USD,1 kg
    """
    book = make_book(
        tmp_path,
        {
            "ingredients": "ingredient,category,base\nleek,greens,g",
            "prices": prices,
            "dishes": """
                dish,version,effective_from,portions,group,ingredient,quantity,unit
                soup,1,2019-01-01,1,soups,leek,100,g
            """,
        },
    )
    found = pricing.measure_inflation(book, start="2020-01", end="2021-01")
    # January against January: 5.00 ÷ 2.00; eleven months, 6.00 ÷ 2.00 or 5.00 ÷ 4.00, are no rate
    assert [month.rate_12_pct for month in found.months[:12]] == [None] * 12
    assert found.months[12].rate_12_pct == pytest.approx(150)
    assert found.rate_12_pct == pytest.approx(150)
    later = pricing.measure_inflation(book, start="2020-01", end="2021-02")
    assert later.rate_12_pct == pytest.approx(-25)  # February against February: 3.00 ÷ 4.00
    for groups in (later.by_category, later.by_group, later.by_dish, later.by_ingredient):
        assert groups[0].rate_12_pct == pytest.approx(-25)
        assert groups[0].contribution_12 == pytest.approx(-25)
    short = pricing.measure_inflation(book, start="2020-02", end="2021-01")
    assert short.rate_12_pct is None
    assert short.by_dish[0].rate_12_pct is None


def test_months_to_come_and_too_few(book: Book) -> None:
    found = pricing.measure_inflation(book, start="2026-09", end="2027-03")
    assert [month.month for month in found.months] == ["2026-09", "2026-10", "2026-11"]
    assert "December 2026 and later are left out" in found.remarks[0]
    assert found.rate_12_pct is None
    for start, end in (("2026-11", "2026-12"), ("2026-12", "2027-02"), ("2020-01", "2020-01")):
        with pytest.raises(DateRefused, match="two at least"):
            pricing.measure_inflation(book, start=start, end=end)
    with pytest.raises(DateRefused, match="earlier month first"):
        pricing.measure_inflation(book, start="2021-01", end="2020-01")


def test_one_dish_and_an_empty_book(book: Book, tmp_path: Path) -> None:
    found = pricing.measure_inflation(book, ["soup"], start="2020-01", end="2020-03")
    assert (found.dishes, found.complete, found.change_pct) == (1, True, 0)
    empty = pricing.measure_inflation(make_book(tmp_path), start="2020-01", end="2020-03")
    assert (empty.dishes, empty.by_dish, empty.months[2].index) == (0, (), None)


def test_the_order_of_the_dishes_changes_nothing(book: Book) -> None:
    one, other = (
        pricing.measure_inflation(book, dishes, start="2020-01", end="2021-02")
        for dishes in (["pastry", "soup", "tea"], ["tea", "soup", "pastry"])
    )
    assert [each.index for each in other.months] == pytest.approx(
        [each.index for each in one.months]
    )
    assert other.formulas == pytest.approx(one.formulas)
    for before, after in zip(one.by_dish, other.by_dish, strict=True):
        assert (after.name, after.contribution) == (
            before.name, pytest.approx(before.contribution),
        )  # fmt: skip


def test_json(book: Book) -> None:
    found = pricing.measure_inflation(book, start="2020-01", end="2021-02").as_json()
    assert found.keys() >= {
        "currency", "from", "to", "dishes", "cost_from", "cost_to", "change_pct", "rate_12_pct",
        "food_series", "all_items_series", "months", "formulas", "by_category", "by_dish",
        "by_ingredient", "left_out",
    }  # fmt: skip
    assert (found["from"], found["to"]) == ("2020-01", "2021-02")
