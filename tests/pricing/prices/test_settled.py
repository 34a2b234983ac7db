"""Whose prices count where two days are compared: one market for both, if it can be."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import pricing
from pricing.book.connect import Book, reading
from pricing.change.overview import then_and_now
from pricing.prices.rule import Rule
from pricing.prices.settled import compared_columns, compared_prices, settle
from tests.kitchen import make_book

THEN, NOW = date(2020, 1, 20), date(2022, 1, 20)
# Then, by the rule: butter was seen in both markets, shop counts; flour in trade only; rice too.
# Now: butter has not been seen in a shop for more than a year, trade counts; flour was seen in a
# shop; rice as then.
FILES = {
    "ingredients": "ingredient,base\nbutter,g\nflour,g\nrice,g\noil,g",
    "prices": """
        ingredient,date,price,currency,pack,supplier,kind
        butter,2020-01-10,8.00,USD,1 kg,Quay,shelf
        butter,2020-01-10,6.00,USD,1 kg,Dock Wholesale,invoice
        butter,2022-01-10,7.00,USD,1 kg,Dock Wholesale,invoice
        flour,2020-01-10,1.00,USD,1 kg,Dock Wholesale,invoice
        flour,2022-01-10,2.00,USD,1 kg,Quay,shelf
        rice,2020-01-10,2.00,USD,1 kg,Quay,shelf
        rice,2020-01-10,1.00,USD,1 kg,Dock Wholesale,invoice
        rice,2022-01-10,3.00,USD,1 kg,Quay,shelf
        rice,2022-01-10,1.50,USD,1 kg,Dock Wholesale,invoice
        oil,2022-01-10,9.00,USD,1 kg,Quay,shelf
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        dish,1,2019-01-01,1,butter,100,g
        dish,1,2019-01-01,1,flour,100,g
        dish,1,2019-01-01,1,rice,100,g
    """,
}


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return make_book(tmp_path_factory.mktemp("settled"), FILES, series=())


def test_one_market_for_both_days(book: Book) -> None:
    found = pricing.compare(book, "dish", then=THEN, now=NOW)
    parts = {part.ingredient: part for part in found.ingredients}
    # butter: a shop was seen before both days; its 8.00 is held. Without this the butter would
    # have fallen from 8.00 in the shop to 7.00 in trade, which is no news of any price.
    butter, flour, rice = (parts[name] for name in ("butter", "flour", "rice"))
    assert (butter.marked, butter.market_then, butter.market_now) == (True, "shop", "shop")
    assert (butter.unit_price_then, butter.unit_price_now) == pytest.approx((0.008, 0.008))
    # flour: the shop was not seen before the first day, but trade was before both
    assert (flour.marked, flour.market_then, flour.market_now) == (True, "trade", "trade")
    assert (flour.unit_price_then, flour.unit_price_now) == pytest.approx((0.001, 0.001))
    assert (rice.marked, rice.market_then) == (False, None)
    assert rice.price_effect == pytest.approx(0.10)
    assert found.price_effect == pytest.approx(0.10)


def test_the_other_market_when_it_is_asked_for(book: Book) -> None:
    found = pricing.compare(book, "dish", then=THEN, now=NOW, market="trade")
    parts = {part.ingredient: part for part in found.ingredients}
    # trade was seen before both days, of butter as of rice
    assert (parts["butter"].unit_price_then, parts["butter"].unit_price_now) == pytest.approx(
        (0.006, 0.007)
    )
    assert parts["rice"].price_effect == pytest.approx(0.05)
    # flour: by the rule trade then and, since trade has not been seen for a year, shop now
    assert (parts["flour"].marked, parts["flour"].market_now) == (True, "trade")


def test_each_day_keeps_its_own_market_where_neither_was_seen_before_both(tmp_path: Path) -> None:
    files = {
        **FILES,
        "prices": """
            ingredient,date,price,currency,pack,supplier,kind
            butter,2020-06-10,6.00,USD,1 kg,Dock Wholesale,invoice
            butter,2020-03-10,8.00,USD,1 kg,Quay,shelf
            butter,2022-01-10,7.00,USD,1 kg,Dock Wholesale,invoice
        """,
        "dishes": """
            dish,version,effective_from,portions,ingredient,quantity,unit
            dish,1,2019-01-01,1,butter,100,g
        """,
        "index": """
            series,month,value,title
            t:x,2020-01,100,X
            t:x,2020-03,100,X
            t:x,2022-01,100,X
        """,
    }
    files["ingredients"] = "ingredient,base,series\nbutter,g,t:x"
    order = {kind: files[kind] for kind in ("index", "ingredients", "prices", "dishes")}
    book = make_book(tmp_path, order, series=())
    found = pricing.compare(book, "dish", then=THEN, now=NOW)
    # nothing was seen before the first day: the shop's later price is moved back, by nothing
    (butter,) = found.ingredients
    assert (butter.marked, butter.market_then, butter.market_now) == (True, "shop", "trade")
    assert (butter.unit_price_then, butter.unit_price_now) == pytest.approx((0.008, 0.007))


def test_all_comparisons_settle_alike(book: Book) -> None:
    alone = pricing.compare(book, "dish", then=THEN, now=NOW)
    found = pricing.rank_drivers(book, then=THEN, now=NOW)
    assert {each.ingredient: each.market_then for each in found.ingredients} == {
        "butter": "shop", "flour": "trade", "rice": None,
    }  # fmt: skip
    assert (found.mean_then, found.mean_now) == pytest.approx(
        (alone.corners.then_recipe_then, alone.corners.now_recipe_now)
    )
    (row,) = then_and_now(book, on=NOW)
    of_row = pricing.compare(book, "dish", then=(row.then_on, "1"), now=NOW)
    assert row.cost_now == pytest.approx(of_row.corners.now_recipe_now)
    inflation = pricing.measure_inflation(book, start="2020-01", end="2022-01")
    kept = {each.name: (each.marked, each.market) for each in inflation.by_ingredient}
    # the 15th of January 2020 is after the first prices of all three
    assert kept == {"butter": (True, "shop"), "flour": (True, "trade"), "rice": (False, None)}


def test_arrays_and_evidence_agree(book: Book) -> None:
    with reading(book) as con:
        rule = Rule(currency="USD")
        ids = [each for (each,) in con.execute("SELECT ingredient_id FROM ingredient").fetchall()]
        days = [THEN, date(2021, 3, 1), NOW]
        prices = compared_prices(con, rule, ids, days)
        columns = compared_columns(con, rule, ids, days)
        # several dates at once: as the rule chose, spans that agree are left as they are
        assert settle(con, rule, [(ids[0], (THEN,))], {(ids[0], THEN): "shop"}) == {}
    assert prices.settled == columns.settled
    for row, each in enumerate(sorted(ids)):
        for column, day in enumerate(days):
            price = prices.prices[each, day].unit_price
            got = columns.columns["unit_price"][row, column]
            assert (price is None and got != got) or got == pytest.approx(price)
