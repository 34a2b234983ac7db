"""What cooking costs beside the food: energy lines like any ingredient, and minutes of work."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import pricing
from pricing.book.connect import Book
from pricing.contents.settings import change_setting
from tests.dashboard.terminal.test_cli import answer, run
from tests.kitchen import make_book

FILES = {
    # a user's own tariff series, in cents a kWh
    "index": """
        series,month,value,title
        own:power,2024-01,20.0,"Electricity, own tariff"
        own:power,2026-01,25.0,"Electricity, own tariff"
    """,
    "ingredients": """
        ingredient,category,base,series
        oven electricity,energy,each,own:power
        piped gas,energy,each,
        flour,baking,g,
    """,
    "prices": """
        ingredient,date,price,currency,pack,supplier,kind
        oven electricity,2024-01-10,0.20,USD,1 kWh,Harbor Power,invoice
        piped gas,2026-01-10,2.93,USD,1 therm,Harbor Power,invoice
        flour,2026-01-10,1.00,USD,1 kg,Quay,
    """,
    "dishes": """
        dish,version,effective_from,portions,minutes,ingredient,quantity,unit
        loaf,1,2020-01-01,8,45,flour,800,g
        loaf,1,2020-01-01,8,45,oven electricity,1.6,kWh
        stew,1,2020-01-01,4,,piped gas,0.1,therm
        stew,1,2020-01-01,4,,dish:loaf,4,portion
        toast,1,2020-01-01,2,6,dish:loaf,2,portion
    """,
}
ON = date(2026, 1, 20)


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return make_book(tmp_path, FILES)


def test_energy_is_priced_from_a_tariff_and_moved_by_its_own_series(book: Book) -> None:
    loaf = pricing.cost_dish(book, "loaf", on=ON)
    flour, power = loaf.lines
    # flour 800 g at $0.001; 1.6 kWh at $0.20 of January 2024, moved by 25 ÷ 20 to $0.25
    assert flour.cost == pytest.approx(0.80)
    assert (power.as_purchased, power.base, power.basis, power.series) == (
        1.6, "each", "bridged", "own:power",
    )  # fmt: skip
    assert power.unit_price == pytest.approx(0.25)
    assert loaf.cost_per_portion == pytest.approx((0.80 + 0.40) / 8)


def test_a_therm_is_so_many_kilowatt_hours(book: Book) -> None:
    gas = pricing.cost_dish(book, "stew", on=ON).lines[0]
    # 105,480,400 J to the US therm and 3,600,000 to the kWh (NIST SP 811): 29.300111… kWh
    assert gas.as_purchased == pytest.approx(2.9300111111)
    assert gas.unit_price == pytest.approx(2.93 / 29.3001111111)
    assert gas.cost == pytest.approx(0.293)  # a tenth of what a therm costs


def test_energy_is_an_ingredient_in_every_question(book: Book) -> None:
    found = pricing.rank_drivers(book, ["loaf"], then=date(2024, 1, 20), now=ON)
    power = next(each for each in found.ingredients if each.ingredient == "oven electricity")
    # 0.2 kWh a portion, five cents a kWh dearer; its series says the same
    assert power.contribution == pytest.approx(0.01)
    assert power.official_relative == pytest.approx(1.25)


def test_minutes_are_shown_and_not_priced_without_a_rate(book: Book) -> None:
    loaf = pricing.cost_dish(book, "loaf", on=ON)
    assert (loaf.minutes, loaf.work_per_portion) == (45, None)
    told = answer("cost", "loaf", "--on", "2026-01-20", "--json", book=book.path)
    assert told["minutes"] == 45
    assert "work_per_portion" not in told
    shown = run("cost", "loaf", "--on", "2026-01-20", book=book.path).stdout
    assert "45 minutes of work a batch, 5.6 a portion." in shown
    stew = answer("cost", "stew", "--on", "2026-01-20", "--json", book=book.path)
    assert stew["minutes"] is None


def test_a_rate_prices_the_work_beside_the_cost_and_never_in_it(book: Book) -> None:
    before = pricing.cost_dish(book, "loaf", on=ON)
    change_setting(book, "rate_per_hour", "16")
    loaf = pricing.cost_dish(book, "loaf", on=ON)
    # three quarters of an hour at 16.00 is 12.00, for eight
    assert loaf.work_per_portion == pytest.approx(1.50)
    assert loaf.cost_per_portion == before.cost_per_portion
    shown = run("cost", "loaf", "--on", "2026-01-20", book=book.path).stdout
    assert "$1.50 a portion at this kitchen's rate, which is not part of the cost." in shown
    toast = pricing.cost_dish(book, "toast", on=ON)
    # only its own six minutes: 1.60 for two
    assert toast.work_per_portion == pytest.approx(0.80)
    shown = run("cost", "toast", "--on", "2026-01-20", book=book.path).stdout
    assert "without that of the dishes it takes" in " ".join(shown.split())
    assert pricing.cost_dish(book, "stew", on=ON).work_per_portion is None
