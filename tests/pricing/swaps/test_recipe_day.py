"""A swap is made in the recipe that was costed: with the sub-recipes of the same recipe day."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from pricing.swaps.of_dish import find_swaps
from tests.kitchen import make_book

FILES = {
    "ingredients": "ingredient,base,allergens\nbutter,g,milk\nmargarine,g,none\nnut,g,nuts",
    "prices": """
        ingredient,date,price,currency,pack
        butter,2023-05-20,10.00,USD,1 kg
        margarine,2023-05-20,8.00,USD,1 kg
        nut,2023-05-20,20.00,USD,1 kg
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        dough,1,2010-01-01,1,butter,100,g
        dough,2,2021-01-01,1,butter,50,g
        dough,2,2021-01-01,1,nut,10,g
        bun,1,2010-01-01,1,dish:dough,1,portion
        bun,2,2020-01-01,1,dish:dough,2,portion
    """,
    "swaps": "ingredient,substitute,ratio\nbutter,margarine,1",
}


def test_a_swap_in_an_old_version_takes_the_amounts_that_were_costed(tmp_path: Path) -> None:
    """Pencil: the bun of 2010 was in force until 2019, when its dough took 100 g butter and no nut.

    It costs 100 × 0.01 = 1.00, and 100 × 0.002 = 0.20 less with margarine, which takes its milk
    out.
    """
    book = make_book(tmp_path, FILES, series=())
    found = find_swaps(book, "bun", on=date(2023, 6, 1), version="1", target=0.80)
    (swap,) = found.swaps
    assert found.cost_per_portion == pytest.approx(1.00)
    assert (swap.quantity, swap.saving) == (pytest.approx(100), pytest.approx(0.20))
    assert swap.cost_per_portion == pytest.approx(0.80)
    assert swap.allergens_removed == ("milk",)
    assert found.target is not None
    assert found.target.reached
