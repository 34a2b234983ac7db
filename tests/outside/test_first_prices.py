"""First prices, then the recipe: the split of the six-item test set, worked out by hand."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import pricing
from tests.kitchen import make_book
from tests.outside import six_items

DAYS = date(2020, 1, 1), date(2021, 1, 1)
# Periods 1 and 2 of six_items.py: Balk, Price and Quantity Index Numbers (2008), tables 3.1, 3.2.
PRICES, QUANTITIES = (table[:, :2].T.tolist() for table in (six_items.PRICES, six_items.QUANTITIES))
# (p1 − p0) q0 and (q1 − q0) p1, by hand from these tables
PRICE_EFFECT = [0.2, 2, 0.6, -0.3, 1.8, -0.1]  # 4.2
RECIPE_EFFECT = [-0.24, -0.3, -0.13, 0.21, 0.28, 0.08]  # −0.1


def test_six_items(tmp_path: Path) -> None:
    dishes = ["dish,version,effective_from,portions,ingredient,quantity,unit"]
    prices = ["ingredient,date,price,currency,pack"]
    for period in (0, 1):
        for item in range(6):
            dishes.append(f"six,{period},{DAYS[period]},1,item {item},{QUANTITIES[period][item]},g")
            prices.append(f"item {item},{DAYS[period]},{PRICES[period][item]},USD,1 g")
    book = make_book(
        tmp_path,
        {
            "ingredients": "\n".join(["ingredient,base", *(f"item {i},g" for i in range(6))]),
            "prices": "\n".join(prices),
            "dishes": "\n".join(dishes),
        },
        series=(),
    )
    found = pricing.compare(book, "six", then=DAYS[0], now=DAYS[1])
    parts = {part.ingredient: part for part in found.ingredients}
    for item in range(6):
        part = parts[f"item {item}"]
        assert part.price_effect == pytest.approx(PRICE_EFFECT[item], abs=1e-12)
        assert part.recipe_effect == pytest.approx(RECIPE_EFFECT[item], abs=1e-12)
    assert found.price_effect == pytest.approx(4.2)
    assert found.recipe_effect == pytest.approx(-0.1)
    # expenditure of the two periods, same tables: 10 and 14.1; Laspeyres 1.42 (table 3.4) times 10,
    # and 14.1 ÷ Paasche 1.3824
    assert found.corners.then_recipe_then == pytest.approx(10.0)
    assert found.corners.then_recipe_now == pytest.approx(14.2)
    assert found.corners.now_recipe_then == pytest.approx(14.1 / 1.3824, rel=1e-4)
    assert found.corners.now_recipe_now == pytest.approx(14.1)
    assert found.change == pytest.approx(4.10)
