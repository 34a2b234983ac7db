"""What every cook who costs dishes knows: facts of the trade, common practice, no source.

The figures are invented; what follows from them is worked out with a pencil.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import pricing
from tests.kitchen import make_book

ON = date(2024, 5, 1)
DISH = "dish,version,effective_from,portions,ingredient,quantity,unit,pantry"


def test_equal_weights_of_two_flours_cost_the_mean_of_their_prices(tmp_path: Path) -> None:
    book = make_book(
        tmp_path,
        {
            "ingredients": "ingredient,base\nwheat flour,g\nrye flour,g",
            "prices": f"""
                ingredient,date,price,currency,pack
                wheat flour,{ON},1.30,USD,1 kg
                rye flour,{ON},4.20,USD,2 kg
            """,
            "dishes": f"""
                {DISH}
                dough,1,2020-01-01,1,wheat flour,450,g,
                dough,1,2020-01-01,1,rye flour,450,g,
            """,
        },
        series=(),
    )
    dough = pricing.cost_dish(book, "dough", on=ON)
    # 1.30 and 2.10 a kg: 1.70 a kg of both together, whatever their packs
    assert dough.cost_per_batch == pytest.approx(0.9 * 1.70, abs=1e-12)


def test_a_costly_pinch_is_cents_on_the_plate_and_a_whole_jar_at_the_till(tmp_path: Path) -> None:
    book = make_book(
        tmp_path,
        {
            "ingredients": "ingredient,base\nrice,g\ndried flowers,g",
            "prices": f"""
                ingredient,date,price,currency,pack
                rice,{ON},2.20,USD,1 kg
                dried flowers,{ON},12.60,USD,7 g
            """,
            "dishes": f"""
                {DISH}
                yellow rice,1,2020-01-01,6,rice,500,g,
                yellow rice,1,2020-01-01,6,dried flowers,0.3,g,
            """,
        },
        series=(),
    )
    pinch = pricing.cost_dish(book, "yellow rice", on=ON).lines[1]
    # 1,800 a kg, over eight hundred times the rice; 0.3 g for six: 0.54, nine cents a portion
    assert pinch.unit_price == pytest.approx(1.80)
    assert pinch.cost == pytest.approx(0.54)
    till = pricing.shop_for(book, {"yellow rice": 1}, on=ON)
    jar = next(item for item in till.ingredients if item.ingredient == "dried flowers")
    assert jar.cost == pytest.approx(12.60)
    assert jar.plate_cost == pytest.approx(0.54)
    assert jar.left_over == pytest.approx(6.7)


def test_two_hours_in_the_oven_are_a_line_of_energy(tmp_path: Path) -> None:
    book = make_book(
        tmp_path,
        {
            "ingredients": "ingredient,category,base\nbarley,,g\noven electricity,energy,each",
            "prices": f"""
                ingredient,date,price,currency,pack
                barley,{ON},1.90,USD,1 kg
                oven electricity,{ON},0.24,USD,1 kWh
            """,
            "dishes": f"""
                {DISH}
                pot barley,1,2020-01-01,4,barley,400,g,
                pot barley,1,2020-01-01,4,oven electricity,1.7,kWh,yes
            """,
        },
        series=(),
    )
    # an oven that takes 0.85 kW over its cycles, two hours long: 1.7 kWh at 0.24 = 0.408
    barley, oven = pricing.cost_dish(book, "pot barley", on=ON).lines
    assert oven.cost == pytest.approx(2 * 0.85 * 0.24)
    assert barley.cost == pytest.approx(0.76)
    till = pricing.shop_for(book, {"pot barley": 1}, on=ON, pantry=False)
    assert "oven electricity" not in {
        item.ingredient for item in till.ingredients
    }  # is not shopping
