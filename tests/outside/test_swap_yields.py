"""Edible ratios of swaps, against USDA refuse figures and an open textbook's potatoes."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from pricing.swaps.of_dish import find_swaps
from pricing.swaps.records import SwapChoice
from tests.kitchen import make_book

ON = date(2024, 5, 1)


def the_swap(folder: Path, ingredients: str, prices: str, line: str, swap: str) -> SwapChoice:
    """Return the one swap of a dish with one line."""
    book = make_book(
        folder,
        {
            "ingredients": f"ingredient,base,yield_pct\n{ingredients}",
            "prices": f"ingredient,date,price,currency,pack\n{prices}",
            "dishes": "dish,version,effective_from,portions,ingredient,quantity,unit\n"
            f"plate,1,2020-01-01,1,{line}",
            "swaps": f"ingredient,substitute,ratio,ratio_state\n{swap},edible",
        },
    )
    (found,) = find_swaps(book, "plate", on=ON).swaps
    return found


def test_leeks_to_spinach_by_their_refuse(tmp_path: Path) -> None:
    # USDA SR28: leeks 11246, refuse 56 %; spinach 11457, refuse 28 %. Edible grams in a pound as
    # purchased are 453.6 × (100 − refuse) ÷ 100: 199.58 g of leek. As much spinach is 199.58 ÷ 0.72
    # = 277.2 g as purchased, 0.6111 of the pound
    swap = the_swap(
        tmp_path,
        "leek,g,44\nspinach,g,72",
        f"leek,{ON},3.00,USD,1 lb\nspinach,{ON},4.00,USD,1 lb",
        "leek,1,lb",
        "leek,spinach,1",
    )
    assert swap.ratio == pytest.approx(277.2 / 453.6, abs=1e-4)
    assert swap.substitute_quantity == pytest.approx(277.2, abs=0.05)
    # 1 lb of leek 3.00; 0.44 ÷ 0.72 lb of spinach at 4.00
    assert swap.saving == pytest.approx(3.00 - 4.00 * 0.44 / 0.72)


def test_potatoes_bought_whole_or_peeled_cost_the_same_at_the_textbook_s_price(
    tmp_path: Path,
) -> None:
    # Culinary Math notes: 50 lb at 1.86 a lb, yield 75 %, are 37.5 lb edible at 2.48: 93.00 both
    # ways. Peeled potatoes at 2.48, all edible, therefore neither save nor cost
    swap = the_swap(
        tmp_path,
        "potatoes,g,75\npeeled potatoes,g,100",
        f"potatoes,{ON},1.86,USD,1 lb\npeeled potatoes,{ON},2.48,USD,1 lb",
        "potatoes,50,lb",
        "potatoes,peeled potatoes,1",
    )
    assert swap.substitute_quantity / 453.59237 == pytest.approx(37.5)
    assert swap.saving == pytest.approx(0, abs=1e-9)
    assert (swap.cheaper_since, swap.dearer_since) == (None, None)
