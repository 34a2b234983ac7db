"""Costings of a small kitchen, worked out by pencil."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

import pricing
from pricing.book.connect import Book
from pricing.errors import DateRefused, UnknownName
from tests.kitchen import make_book

FILES = {
    "index": """
        series,month,value,title,parent
        t:narrow,2019-01,100,Narrow,t:wide
        t:narrow,2019-02,110,Narrow,t:wide
        t:narrow,2019-03,120,Narrow,t:wide
        t:narrow,2019-05,150,Narrow,t:wide
        t:wide,2018-01,50,Wide,
        t:wide,2019-01,60,Wide,
        t:wide,2020-06,90,Wide,
    """,
    "ingredients": """
        ingredient,base,density_g_per_ml,grams_each,yield_pct,series
        barley,g,0.8,,,t:narrow
        cream,ml,1,,,
        leek,g,,200,50,
        saffron,g,,,,
        salt,g,1.2,,,
    """,
    "measures": """
        ingredient,measure,grams
        leek,bunch,600
    """,
    "prices": """
        ingredient,date,price,currency,pack,supplier,kind,tax_pct
        barley,2019-01-10,2.00,USD,1 kg,Quay,,
        barley,2019-01-10,2.40,USD,1 kg,Mill,,
        barley,2019-01-20,3.00,USD,1 kg,Mill,offer,
        cream,2019-01-05,1.50,USD,500 ml,Quay,,10
        leek,2019-01-02,1.20,USD,1 bunch,Quay,,
        salt,2019-01-03,0.60,USD,500 g,,,
    """,
    "dishes": """
        dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit,state,pantry
        broth,1,2018-01-01,4,1000,barley,500,g,,
        broth,1,2018-01-01,4,1000,salt,10,g,,yes
        bake,old,2018-06-01,2,,dish:broth,250,g,,
        bake,old,2018-06-01,2,,leek,100,g,edible,
        bake,old,2018-06-01,2,,cream,1/2,us cup,,
        bake,new,2019-02-01,2,,dish:broth,1,portion,,
        bake,new,2019-02-01,2,,leek,1,each,,
        cake,1,2018-01-01,1,,saffron,1,g,,
        cake,1,2018-01-01,1,,barley,100,g,,
    """,
}


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return make_book(tmp_path_factory.mktemp("kitchen"), FILES, series=())


def test_fresh_prices_by_pencil(book: Book) -> None:
    cost = pricing.cost_dish(book, "BAKE ", on=date(2019, 1, 31))
    # barley: two shops, 2.00 and 2.40 a kg: 2.20; the offer does not count. Broth: 500 g = 1.10,
    # and 10 g of salt at 1.20 a kg = 0.012. A quarter of the batch is taken (250 of 1000 g): 0.278.
    # leek: 100 g edible is 200 g bought; 1.20 for 600 g: 0.40. cream: 118.29411825 ml at
    # 1.50 × 1.1 / 500 = 0.0033 a ml: 0.39037059.
    assert (cost.version, cost.version_in_force, cost.complete) == ("old", True, True)
    assert cost.cost_per_batch == pytest.approx(0.278 + 0.40 + 118.29411825 * 0.0033, abs=1e-12)
    assert cost.cost_per_portion == pytest.approx(cost.cost_per_batch / 2)
    assert cost.pantry_per_portion == pytest.approx(0.012 / 4 / 2)
    assert cost.display == {"cost_per_portion": "$0.53"}
    broth, leek, cream = cost.lines
    assert (broth.ingredient, broth.basis, broth.as_purchased) == ("dish:broth", "observed", None)
    assert [each.as_purchased for each in broth.lines] == [125, 2.5]
    assert leek.as_purchased == pytest.approx(200)
    assert leek.age_days == 29
    assert cream.quantity == 0.5
    barley = broth.lines[0]
    assert {(each.supplier, each.unit_price) for each in barley.observed} == {
        ("Quay", 0.002),
        ("Mill", 0.0024),
    }
    assert sum(line.share for line in cost.lines if line.share) == pytest.approx(1)


def test_offers_count_when_asked(book: Book) -> None:
    cost = pricing.cost_dish(book, "broth", on=date(2019, 1, 31), offers=True)
    # Mill's latest day is the offer, 3.00; Quay's 2.00 is ten days older: 2^(-10/180) = 0.96222380;
    # (3.00 + 0.96222380 × 2.00) ÷ 1.96222380 = 2.50962585 a kg; 500 g of it
    assert cost.lines[0].cost == pytest.approx(2.50962585 / 2, rel=1e-8)


def test_supplier_filter(book: Book) -> None:
    cost = pricing.cost_dish(book, "broth", on=date(2019, 1, 31), supplier="mill")
    assert cost.lines[0].unit_price == pytest.approx(0.0024)
    assert cost.lines[1].basis == "missing"
    assert cost.complete is False
    with pytest.raises(UnknownName, match="Nearest: Mill"):
        pricing.cost_dish(book, "broth", on=date(2019, 1, 31), supplier="Mil")


def test_bridge_from_an_earlier_price(book: Book) -> None:
    cost = pricing.cost_dish(book, "broth", on=date(2019, 4, 15))
    barley = cost.lines[0]
    # 95 days old; narrow: January 100, April not published, March stands in: 120. 2.20 × 1.2
    assert barley.unit_price == pytest.approx(0.0022 * 1.2)
    assert (barley.basis, barley.series, barley.series_title) == ("bridged", "t:narrow", "Narrow")
    assert (barley.months, barley.filled, barley.held_at) == (
        ("2019-01", "2019-04"),
        ("2019-04",),
        None,
    )
    assert barley.factor == pytest.approx(1.2)
    assert barley.age_days == 95
    # salt has no series: held, and said so
    assert cost.lines[1].basis == "observed"
    assert "no official series is named" in (cost.lines[1].reason or "")


def test_wider_rung_and_its_last_month(book: Book) -> None:
    # August 2019 is the third month after narrow's last: still narrow, held at May
    august = pricing.cost_dish(book, "broth", on=date(2019, 8, 31)).lines[0]
    assert (august.series, august.held_at) == ("t:narrow", "2019-05")
    assert august.unit_price == pytest.approx(0.0022 * 1.5)
    # June 2020: narrow is too old, wide has both months: 60 → 90
    june = pricing.cost_dish(book, "broth", on=date(2020, 6, 1)).lines[0]
    assert (june.series, june.held_at) == ("t:wide", None)
    assert june.unit_price == pytest.approx(0.0022 * 1.5)
    # 2022: both end too early; wide ends later and is held at its last month
    late = pricing.cost_dish(book, "broth", on=date(2022, 6, 1)).lines[0]
    assert (late.series, late.held_at) == ("t:wide", "2020-06")


def test_bridge_back_from_a_later_price(book: Book) -> None:
    cost = pricing.cost_dish(book, "broth", on=date(2018, 3, 1))
    barley, salt = cost.lines
    # January and March 2018: narrow begins later; wide: 50 (January stands in for March) and 60
    assert barley.unit_price == pytest.approx(0.0022 * 50 / 60)
    assert (barley.basis, barley.series, barley.filled) == ("bridged", "t:wide", ("2018-03",))
    assert barley.age_days == (date(2018, 3, 1) - date(2019, 1, 10)).days
    # salt has no series to move a later price by
    assert salt.basis == "missing"
    assert "first seen on 3 January 2019" in (salt.reason or "")
    assert cost.complete is False
    assert cost.display["cost_per_portion"].startswith("at least $")


def test_observed_basis_holds_and_never_looks_ahead(book: Book) -> None:
    held = pricing.cost_dish(book, "broth", on=date(2020, 6, 1), basis="observed").lines[0]
    assert (held.basis, held.unit_price) == ("observed", pytest.approx(0.0022))
    assert "Held from 10 January 2019" in (held.reason or "")
    early = pricing.cost_dish(book, "broth", on=date(2018, 3, 1), basis="observed").lines[0]
    assert early.basis == "missing"


def test_versions(book: Book) -> None:
    new = pricing.cost_dish(book, "bake", on=date(2019, 3, 1))
    assert (new.version, new.version_in_force) == ("new", True)
    old = pricing.cost_dish(book, "bake", on=date(2019, 3, 1), version="old")
    assert (old.version, old.version_in_force) == ("old", False)
    before = pricing.cost_dish(book, "bake", on=date(2018, 2, 1), basis="observed")
    assert (before.version, before.version_in_force) == ("old", False)
    with pytest.raises(UnknownName, match="It has: old, new"):
        pricing.cost_dish(book, "bake", on=date(2019, 3, 1), version="New")


def test_missing_price_is_named(book: Book) -> None:
    cost = pricing.cost_dish(book, "cake", on=date(2019, 1, 31))
    assert cost.complete is False
    assert cost.cost_per_batch == pytest.approx(0.22)
    assert cost.lines[0].basis == "missing"
    assert "No price of saffron is in the book" in (cost.lines[0].reason or "")


def test_future_and_unknown(book: Book) -> None:
    with pytest.raises(DateRefused, match="after today"):
        pricing.cost_dish(book, "bake", on=date(2026, 11, 25))
    with pytest.raises(UnknownName, match="Nearest: bake"):
        pricing.cost_dish(book, "bakes", on=date(2019, 1, 31))


def test_json_has_the_keys_of_the_contract(book: Book) -> None:
    answer = json.loads(json.dumps(pricing.cost_dish(book, "bake", on=date(2019, 1, 31)).as_json()))
    assert {
        "dish", "version", "version_in_force", "on", "currency", "portions", "complete",
        "cost_per_batch", "cost_per_portion", "pantry_per_portion", "display", "lines",
    } <= answer.keys()  # fmt: skip
    for line in answer["lines"]:
        assert {
            "ingredient", "quantity", "unit", "state", "as_purchased", "base", "unit_price", "cost",
            "share", "pantry", "basis", "observed", "age_days", "series", "months", "filled",
            "held_at", "factor", "reason",
        } <= line.keys()  # fmt: skip
    assert answer["on"] == "2019-01-31"
    assert answer["lines"][0]["lines"][0]["ingredient"] == "barley"


def test_mixed_currencies_are_never_converted(tmp_path: Path) -> None:
    book = make_book(
        tmp_path,
        {
            "ingredients": "ingredient,base\noil,ml\nflour,g",
            "prices": """
                ingredient,date,price,currency,pack
                oil,2024-01-01,9.00,EUR,1 l
                flour,2024-01-01,1.00,USD,1 kg
            """,
            "dishes": """
                dish,version,effective_from,portions,ingredient,quantity,unit
                flatbread,1,2020-01-01,4,oil,50,ml
                flatbread,1,2020-01-01,4,flour,500,g
            """,
        },
    )
    cost = pricing.cost_dish(book, "flatbread", on=date(2024, 1, 2))
    assert cost.complete is False
    assert cost.cost_per_batch == pytest.approx(0.5)
    assert "prices in EUR only; this costing is in USD" in (cost.lines[0].reason or "")
