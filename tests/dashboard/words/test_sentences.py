"""Sentences that a cook would misread if they were shorter; figures by pencil."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from dashboard.terminal.cost import cost_text
from dashboard.terminal.swaps import swaps_text
from dashboard.words.evidence import band_words
from dashboard.words.season import against_year
from dashboard.words.till import total_words
from pricing.book.connect import Book
from pricing.contents.settings import book_settings
from pricing.dishes.cost import cost_dish
from pricing.prices.bridge_error import CostBand
from pricing.swaps.of_dish import find_swaps
from pricing.till.shop import shop_for
from tests.kitchen import make_book

ON = date(2026, 11, 24)
# A portion of pie: 100 g of prawns at 0.02, 50 ml of milk at 0.0015, 0.6 kWh at 0.25: £2.225
FILES = {
    "ingredients": """
        ingredient,base,density_g_per_ml,allergens
        prawns,g,,crustaceans
        peas,g,,none
        milk,ml,1.03,milk
        oil,ml,0.92,
        oven current,each,,none
    """,
    "prices": """
        ingredient,date,price,currency,pack,supplier
        prawns,2025-05-10,4.00,GBP,200 g,Quay
        prawns,2026-11-10,4.00,GBP,200 g,Quay
        peas,2026-11-20,2.00,GBP,1 kg,Quay
        milk,2026-11-10,1.00,GBP,1 l,Quay
        milk,2026-11-10,2.00,GBP,1 l,Mill
        oil,2026-11-10,1.00,GBP,1 l,Quay
        oven current,2026-11-10,0.25,GBP,1 kWh,Grid
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        pie,1,2026-01-01,4,prawns,400,g
        pie,1,2026-01-01,4,milk,200,ml
        pie,1,2026-01-01,4,oven current,2.4,kWh
        toast,1,2026-01-01,1,prawns,150,g
    """,
    "swaps": """
        ingredient,substitute,ratio
        prawns,peas,1
        prawns,leave out,0
        prawns,prawns,0.5
        milk,oil,0.9
    """,
}


@pytest.fixture
def kitchen(tmp_path: Path) -> Book:
    return make_book(tmp_path, FILES, currency="GBP", measures="uk")


def flat(text: str) -> str:
    """Return text without its line breaks and padding."""
    return " ".join(text.split())


def test_a_swap_tells_since_when_its_prices_were_seen(kitchen: Book) -> None:
    said = flat(swaps_text(find_swaps(kitchen, "pie", on=ON)))
    assert "cheaper since both were first seen, 20 November 2026" in said  # peas
    assert "cheaper since it was first seen, 10 May 2025" in said  # left out, and half of it


def test_as_few_changes_at_a_lower_cost_are_named(kitchen: Book) -> None:
    # peas for prawns saves 100 × 0.018 = 1.80 and keeps the weight; left out saves 2.00
    said = flat(swaps_text(find_swaps(kitchen, "pie", on=ON, target=0.5)))
    assert (
        "1 change reaches £0.50: peas for prawns. A portion then costs £0.43. As few changes could "
        "bring it to £0.23; this changes the recipe less." in said
    )
    # 1.80 is not enough for 0.40 (0.425), 2.00 is (0.225): then nothing lower has to be told
    nearer = flat(swaps_text(find_swaps(kitchen, "pie", on=ON, target=0.4)))
    assert "1 change reaches £0.40: prawns left out. A portion then costs £0.23." in nearer
    assert "could bring it to" not in nearer


def test_the_largest_saving_is_named_first(kitchen: Book) -> None:
    # both are needed for 0.20: 2.225 − 2.00 − (0.075 − 0.045 = 0.03) = 0.195
    said = flat(swaps_text(find_swaps(kitchen, "pie", on=ON, target=0.2)))
    assert "2 changes reach £0.20: prawns left out, oil for milk." in said


def test_what_an_unknown_allergen_rests_on_is_told_once(kitchen: Book) -> None:
    said = flat(swaps_text(find_swaps(kitchen, "pie", on=ON)))
    assert "added: unknown" in said  # oil has no record
    assert said.count("has no allergen record yet") == 1
    only_prawns = flat(swaps_text(find_swaps(kitchen, "toast", on=ON)))
    assert "unknown" not in only_prawns.casefold()


def test_till_less_left_overs_is_told_where_it_is_not_the_plate(kitchen: Book) -> None:
    # two packs of prawns 8.00, the cheaper litre 1.00 with 0.80 over, 3 kWh 0.75 with 0.15 over:
    # 9.75 − 0.95 = 8.80; on the plate 4 × 2.225 = 8.90
    found = shop_for(kitchen, {"pie": 1}, on=ON)
    assert total_words(found)[-1] == (
        "What is used of these packs costs £8.80; a costing takes the typical price of all packs "
        "and shops seen."
    )
    # one shop, one pack: 4.00 − 1.00 over = the 3.00 on the plate
    assert total_words(shop_for(kitchen, {"toast": 1}, on=ON))[-1].startswith("Left over: £1.00")


def test_an_hour_of_current_is_not_multiplied(kitchen: Book) -> None:
    text = cost_text(cost_dish(kitchen, "pie", on=ON), book_settings(kitchen))
    assert "2.4 kWh" in text
    assert "× kWh" not in text


def test_an_error_under_half_a_penny_is_not_told_as_nothing() -> None:
    band = CostBand(
        low=0.1495, high=0.1505, typical_error=0.0005, typical_error_pct=0.3, share_bridged=0.13,
        share_spread=0.0, from_book=False,
    )  # fmt: skip
    said = band_words(band, "GBP", complete=True)
    assert "£0.00" not in said
    assert "less than half of the smallest coin" in said
    larger = CostBand(
        low=1.0, high=1.02, typical_error=0.01, typical_error_pct=1.0, share_bridged=0.13,
        share_spread=0.0, from_book=False,
    )  # fmt: skip
    assert "off by £0.01 (1.0 %)" in band_words(larger, "GBP", complete=True)


def test_the_band_s_words_say_what_it_was_measured_on() -> None:
    band = CostBand(
        low=2.9, high=3.1, typical_error=0.1, typical_error_pct=10 / 3, share_bridged=0.002,
        share_spread=0.6, from_book=True,
    )  # fmt: skip
    assert band_words(band, "GBP", complete=True) == (
        "Under 1 % of it rests on prices estimated from official prices; 60 % of it rests on "
        "prices of several shops. That typically puts it off by £0.10 (3.3 %): half of the prices "
        "held out of this book were nearer than what is taken here."
    )


def test_a_month_like_the_year_has_no_sign() -> None:
    assert [against_year(each) for each in (1.0, 0.9999, 1.012, 0.997)] == [
        "0.0 %", "0.0 %", "+1.2 %", "−0.3 %",
    ]  # fmt: skip
