"""What rounds to nothing in one currency is a change in another: yen, dinars; by pencil."""

from __future__ import annotations

from datetime import date

import pytest

import pricing
from dashboard.tables.catalogue import chosen
from dashboard.terminal.compare import compare_text
from dashboard.terminal.drivers import drivers_text
from dashboard.words.change import change_paragraph
from dashboard.words.dish import change_words
from dashboard.words.line_costs import shown_costs
from pricing.book.connect import Book
from pricing.change.overview import then_and_now
from tests.kitchen import make_book

THEN, NOW = date(2026, 6, 15), date(2026, 11, 24)


@pytest.fixture(scope="module")
def dinars(tmp_path_factory: pytest.TempPathFactory) -> Book:
    """Ten grams of tea: KWD 0.018 in June, 0.022 in November. The cake takes a portion of it.

    From October a portion of syrup has 2 g of sugar less: 2 × 0.001 = KWD 0.002, also of the plate
    that takes it.
    """
    files = {
        "ingredients": "ingredient,base\ntea,g\nsugar,g\nflour,g",
        "prices": """
            ingredient,date,price,currency,pack
            tea,2026-05-28,1.800,KWD,1 kg
            tea,2026-11-10,2.200,KWD,1 kg
            sugar,2026-05-28,1.000,KWD,1 kg
            sugar,2026-11-10,1.000,KWD,1 kg
        """,
        "dishes": """
            dish,version,effective_from,portions,ingredient,quantity,unit
            cup of tea,1,2026-06-01,1,tea,10,g
            syrup,1,2026-06-01,3,sugar,30,g
            syrup,2,2026-10-01,3,sugar,24,g
            plate,1,2026-06-01,3,dish:syrup,1,portion
            plate,1,2026-06-01,3,tea,10,g
        """,
    }
    folder = tmp_path_factory.mktemp("dinars")
    return make_book(folder, files, currency="KWD", measures="metric")


@pytest.fixture(scope="module")
def yen(tmp_path_factory: pytest.TempPathFactory) -> Book:
    """100 g of rice at JPY 0.2 a gram; its pack shrank from 500 to 498 g at the same price.

    The larger part of the change is eggs: JPY 20 in June, 30 in November.
    """
    files = {
        "ingredients": "ingredient,base\nrice,g\neggs,each",
        "prices": """
            ingredient,date,price,currency,pack,supplier,product
            rice,2026-06-10,100,JPY,500 g,Quay,Old Mill
            rice,2026-11-10,100,JPY,498 g,Quay,Old Mill
            eggs,2026-06-10,200,JPY,10 each,Quay,
            eggs,2026-11-10,300,JPY,10 each,Quay,
        """,
        "dishes": """
            dish,version,effective_from,portions,ingredient,quantity,unit
            egg rice,1,2026-06-01,1,rice,100,g
            egg rice,1,2026-06-01,1,eggs,1,each
        """,
    }
    folder = tmp_path_factory.mktemp("yen")
    return make_book(folder, files, currency="JPY", measures="metric")


def test_four_thousandths_of_a_dinar_are_a_change(dinars: Book) -> None:
    found = pricing.compare(dinars, "cup of tea", then=THEN, now=NOW)
    said = change_words(found, None).replace("\u00a0", " ")
    assert "KWD 0.018" in said
    assert "That is +KWD 0.004 (+22 %), all of it by prices." in said  # 4 ÷ 18 = 22.2 %
    assert change_paragraph(found) == (
        "On 15 June 2026 a portion cost KWD 0.018. The recipe as printed, today, costs KWD 0.022: "
        "KWD 0.004 more, mostly tea."
    )


def test_a_sub_recipe_that_changed_by_two_thousandths_is_a_reworked_dish(dinars: Book) -> None:
    # the plate's third of a portion of syrup: 0.002 ÷ 3 = 0.00067, more than half of 0.001
    dishes = then_and_now(dinars, on=NOW)
    reworked = chosen(dishes, currency="KWD", only_reworked=True)
    assert [dish.dish for dish in reworked] == ["plate", "syrup"]


def test_costs_of_a_sub_recipe_add_up_in_thousandths(dinars: Book) -> None:
    cost = pricing.cost_dish(dinars, "plate", on=NOW)
    shown = shown_costs(cost)
    syrup, tea = cost.lines
    assert [str(shown[id(line)]) for line in (syrup, *syrup.lines, tea)] == [
        "0.008", "0.008", "0.022",
    ]  # fmt: skip


def test_less_than_half_a_yen_is_no_pack_effect(yen: Book) -> None:
    # 100 × (100 ÷ 498 − 100 ÷ 500) = JPY 0.08 by the pack
    found = pricing.compare(yen, "egg rice", then=THEN, now=NOW)
    said = compare_text(found)
    assert "pack" not in said
    assert "costs JPY 50: JPY 10 more, mostly eggs." in said.replace("\n", " ")


def test_a_mean_is_told_in_the_money_of_the_book(yen: Book, dinars: Book) -> None:
    said = drivers_text(pricing.rank_drivers(yen, then=THEN, now=NOW), {})
    assert "cents" not in said
    assert "+JPY 10.0" in said  # eggs, to a tenth of the smallest unit
    # two dishes, as only the plate takes the syrup: tea adds 0.004 to the cup and 0.00133 to the
    # plate, ÷ 2 = 0.00267
    said = drivers_text(pricing.rank_drivers(dinars, then=THEN, now=NOW), {})
    assert "+KWD 0.0027" in said
