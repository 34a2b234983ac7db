"""A recipe scaled to so many portions, worked out by pencil."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import pricing
from pricing.errors import InputRefused
from tests.kitchen import make_book

FILES = {
    "ingredients": "ingredient,base\nleek,g",
    "prices": "ingredient,date,price,currency,pack\nleek,2026-11-10,2.00,USD,1 kg",
    "dishes": "dish,version,effective_from,portions,ingredient,quantity,unit\n"
    "soup,1,2020-01-01,4,leek,800,g",
}
ON = date(2026, 11, 24)


def test_a_batch_grows_and_a_portion_stays(tmp_path: Path) -> None:
    found = pricing.cost_dish(make_book(tmp_path, FILES, series=()), "soup", on=ON, scaled_to=10)
    # 200 g a portion at 0.002 = 0.40; ten of them 2 kg = 4.00
    assert (found.portions, found.cost_per_batch) == (10, pytest.approx(4.00))
    assert found.cost_per_portion == pytest.approx(0.40)
    assert found.lines[0].as_purchased == pytest.approx(2000)


@pytest.mark.parametrize("portions", [0, -2, 1e7, 1e308, float("nan"), float("inf")])
def test_no_portions_are_refused(tmp_path: Path, portions: float) -> None:
    book = make_book(tmp_path, FILES, series=())
    with pytest.raises(InputRefused, match="portions; expected a number above 0"):
        pricing.cost_dish(book, "soup", on=ON, scaled_to=portions)
