"""A figure moves only with news, and trade prices stay out of the figures of a shop book."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

import pricing
from pricing.book.connect import Book
from tests.kitchen import TODAY, load, make_book

FACTS = """
    ingredient,base,series
    beef,g,us-bls:SEFC01
    rice,g,us-bls:SEFA03
    oats,g,us-bls:SEFA02
"""
DISH = """
    dish,version,effective_from,portions,ingredient,quantity,unit
    stew,1,2020-01-01,4,beef,1,kg
    stew,1,2020-01-01,4,rice,400,g
"""
SWAPS = """
    ingredient,substitute,ratio
    beef,oats,0.3
"""
PRICES = """
    ingredient,date,price,currency,pack,supplier
    beef,2024-03-01,12.00,USD,1 kg,Quay
    beef,2024-03-11,9.00,USD,1 kg,Mill
    rice,2024-03-01,2.00,USD,1 kg,Quay
    rice,2026-11-10,2.40,USD,1 kg,Quay
    beef,2026-11-10,14.00,USD,1 kg,Quay
    oats,2026-11-10,3.00,USD,1 kg,Quay
    oats,2024-03-01,2.80,USD,1 kg,Quay
"""


def stocked(folder: Path) -> Book:
    files = {"ingredients": FACTS, "prices": PRICES, "dishes": DISH, "swaps": SWAPS}
    return make_book(folder, files, series=["us-bls:SEFC01", "us-bls:SEFA03", "us-bls:SEFA02"])


def test_the_stew_of_two_sources_asked_daily_moves_only_with_news(tmp_path: Path) -> None:
    book = stocked(tmp_path)
    days = [date(2024, 3, 1) + timedelta(days=step) for step in range(60)]
    prices = {
        day: pricing.cost_dish(book, "stew", on=day, basis="observed").lines[0].unit_price
        for day in days
    }
    # One source: 12.00 a kg. From 11 March the mean of two, the older one counting a little less:
    # 2^(-10/180) = 0.9622238; (9.00 + 0.9622238 × 12.00) ÷ 1.9622238 = 10.4711224
    for day, price in prices.items():
        kilo = 12.00 if day < date(2024, 3, 11) else 10.4711224
        assert price == pytest.approx(kilo / 1000, rel=1e-8), day
    # Quay grows older than 45 days on 16 April, and nothing leaps: it was seen when Mill was
    assert prices[date(2024, 4, 15)] == prices[date(2024, 4, 16)] == prices[date(2024, 4, 29)]


def test_an_invoice_added_to_a_shop_book_changes_no_figure(tmp_path: Path) -> None:
    book = stocked(tmp_path)

    def figures() -> list[object]:
        return [
            pricing.measure_inflation(book, start="2024-03", end="2026-11").as_json(),
            pricing.find_swaps(book, "stew", on=TODAY).as_json(),
            pricing.shop_for(book, {"stew": 1}, on=TODAY).as_json(),
            pricing.cost_dish(book, "stew", on=date(2025, 6, 1)).as_json(),
        ]

    before = figures()
    invoice = """
        ingredient,date,price,currency,pack,supplier,kind
        beef,2026-11-20,70.00,USD,10 kg,Wholesale,invoice
        rice,2024-06-01,12.00,USD,10 kg,Wholesale,invoice
    """
    assert load(book, "prices", invoice).added == 2
    assert figures() == before
    trade = pricing.cost_dish(book, "stew", on=TODAY, market="trade")
    # 1 kg of beef at 7.00; rice was seen in trade too long ago (over 365 days before the shop's
    # last price), so the shop's 2.40 a kg counts for it
    assert [line.market for line in trade.lines] == ["trade", "shop"]
    assert trade.cost_per_batch == pytest.approx(7.00 + 0.4 * 2.40)


def test_a_named_supplier_counts_whatever_its_kind(tmp_path: Path) -> None:
    book = stocked(tmp_path)
    invoice = """
        ingredient,date,price,currency,pack,supplier,kind
        beef,2026-11-20,70.00,USD,10 kg,Quay,invoice
    """
    assert load(book, "prices", invoice).added == 1
    line = pricing.cost_dish(book, "stew", on=TODAY, supplier="Quay").lines[0]
    # one source, whatever the market: its latest day is the invoice's
    assert line.unit_price == pytest.approx(7.00 / 1000)
    shop = pricing.cost_dish(book, "stew", on=TODAY).lines[0]
    assert shop.market == "shop"
    without = pricing.cost_dish(book, "stew", on=TODAY, not_supplier=["quay"]).lines[0]
    assert {each.supplier for each in without.observed} == {"Mill"}


def test_the_food_series_moves_what_has_no_series_of_its_own(tmp_path: Path) -> None:
    facts = "ingredient,base,series\nsaffron,g,"
    prices = "ingredient,date,price,currency,pack\nsaffron,2020-01-15,6.00,USD,1 g"
    dish = """
        dish,version,effective_from,portions,ingredient,quantity,unit
        rice,1,2019-01-01,2,saffron,0.5,g
    """
    book = make_book(tmp_path, {"ingredients": facts, "prices": prices, "dishes": dish})
    line = pricing.cost_dish(book, "rice", on=date(2024, 1, 20)).lines[0]
    assert (line.basis, line.series) == ("bridged", "us-bls:SAF11")
    # US food at home, BLS: 242.565 in January 2020, 305.037 in January 2024 (bundled extract)
    moved = pricing.rebase(
        book, 6.00, start=date(2020, 1, 1), end=date(2024, 1, 1), series="us-bls:SAF11"
    )
    assert line.unit_price == pytest.approx(moved.result)
    assert line.moved_share == 1
