"""Price and recipe effects against Bennet's decomposition of the six-item test set."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import pricing
from tests.kitchen import make_book

# Six items, periods 1 and 2: Balk, Price and Quantity Index Numbers (2008), tables 3.1 and 3.2.
PRICES = ([1, 1, 1, 1, 1, 1], [1.2, 3, 1.3, 0.7, 1.4, 0.8])
QUANTITIES = ([1, 1, 2, 1, 4.5, 0.5], [0.8, 0.9, 1.9, 1.3, 4.7, 0.6])
# Bennet (1920): ½(q0+q1)(p1−p0) and ½(p0+p1)(q1−q0), by hand from these tables
PRICE_EFFECT = [0.18, 1.90, 0.585, -0.345, 1.84, -0.11]  # 4.05
QUANTITY_EFFECT = [-0.22, -0.20, -0.115, 0.255, 0.24, 0.09]  # 0.05


def test_six_items(tmp_path: Path) -> None:
    days = (date(2020, 1, 1), date(2021, 1, 1))
    dishes = ["dish,version,effective_from,portions,ingredient,quantity,unit"]
    prices = ["ingredient,date,price,currency,pack"]
    for period in (0, 1):
        for item in range(6):
            dishes.append(f"six,{period},{days[period]},1,item {item},{QUANTITIES[period][item]},g")
            prices.append(f"item {item},{days[period]},{PRICES[period][item]},USD,1 g")
    book = make_book(
        tmp_path,
        {
            "ingredients": "\n".join(["ingredient,base", *(f"item {i},g" for i in range(6))]),
            "prices": "\n".join(prices),
            "dishes": "\n".join(dishes),
        },
    )
    found = pricing.compare(book, "six", then=days[0], now=days[1])
    parts = {part.ingredient: part for part in found.ingredients}
    for item in range(6):
        part = parts[f"item {item}"]
        assert part.price_effect == pytest.approx(PRICE_EFFECT[item], abs=1e-12)
        assert part.recipe_effect == pytest.approx(QUANTITY_EFFECT[item], abs=1e-12)
    assert found.price_effect == pytest.approx(4.05)
    assert found.recipe_effect == pytest.approx(0.05)
    # expenditure of the two periods, same tables: 10 and 14.1
    assert found.corners.then_recipe_then == pytest.approx(10.0)
    assert found.corners.now_recipe_now == pytest.approx(14.1)
    assert found.change == pytest.approx(4.10)
