"""As-purchased and edible-portion arithmetic, against open textbooks."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import pricing
from tests.kitchen import make_book

ON = date(2024, 5, 1)
DISH = "dish,version,effective_from,portions,ingredient,quantity,unit,state,yield_pct\n"


def cost(folder: Path, ingredient: str, price: str, line: str, measures: str = "us") -> float:
    """Cost per batch of a one-line dish."""
    book = make_book(
        folder,
        {
            "ingredients": f"ingredient,base,grams_each\n{ingredient},g,170",
            "prices": f"ingredient,date,price,currency,pack\n{ingredient},{ON},{price}",
            "dishes": DISH + f"plate,1,2020-01-01,1,{ingredient},{line}",
        },
        measures=measures,
    )
    return float(pricing.cost_dish(book, "plate", on=ON).cost_per_batch)


def test_potatoes_cost_is_conserved(tmp_path: Path) -> None:
    # Culinary Math notes: 50 lb at 1.86 a lb, yield 75 %: 37.5 lb edible at 2.48; 93.00 both ways
    edible = cost(tmp_path, "potatoes", "1.86,USD,1 lb", "37.5,lb,edible,75")
    assert edible == pytest.approx(93.00, abs=1e-9)
    assert edible / 37.5 == pytest.approx(2.48, abs=1e-9)
    bought = tmp_path / "bought"
    bought.mkdir()
    whole = cost(bought, "potatoes", "1.86,USD,1 lb", "50,lb,as_purchased,")
    assert whole == pytest.approx(50 * 1.86, abs=1e-9)


def test_apples_yield(tmp_path: Path) -> None:
    # open textbook: 10 lb as purchased, 2.4 lb trim: 7.6 lb edible, 76 %. At 1.00 a lb: 10.00
    assert cost(tmp_path, "apples", "1.00,USD,1 lb", "7.6,lb,edible,76") == pytest.approx(10.0)


def test_pears_to_buy(tmp_path: Path) -> None:
    # Bakery and Business Math: 32 oz edible at 78 % is 41.03 oz as purchased. At 1.00 an oz
    assert cost(tmp_path, "pears", "1.00,USD,1 oz", "32,oz,edible,78") == pytest.approx(
        41.03, abs=0.005
    )


def test_strawberries(tmp_path: Path) -> None:
    # the same chart: 5000 g at 87 % gives 4350 g edible; so 4350 g edible takes 5000 g
    assert cost(tmp_path, "strawberries", "1.00,EUR,1 kg".replace("EUR", "USD"),
                "4350,g,edible,87", "metric") == pytest.approx(5.0)  # fmt: skip


def test_striploin_per_portion(tmp_path: Path) -> None:
    # BC open textbook: 5.2 kg bought gives 4.6 kg; 11.95 a kg; 85 portions of 170 g.
    # By hand: 14.45 kg × 5.2 / 4.6 × 11.95 = 195.2006…; yield as typed: 4.6 / 5.2 = 88.461538 %
    total = cost(tmp_path, "striploin", "11.95,USD,1 kg", "85,each,edible,88.461538", "metric")
    assert total == pytest.approx(14.45 * 5.2 / 4.6 * 11.95, rel=1e-7)


def test_canned_tomato_unit_price(tmp_path: Path) -> None:
    # textbook inputs: 16.54 for 6 cans of 102 oz = 612 oz; 0.0270 an oz
    assert cost(tmp_path, "tomatoes", "16.54,USD,6 x 102 oz", "1,oz,as_purchased,") == (
        pytest.approx(0.0270, abs=0.00005)
    )
