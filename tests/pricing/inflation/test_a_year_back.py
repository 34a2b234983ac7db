"""The rate over twelve months compares with the same month a year before."""

from __future__ import annotations

from pathlib import Path

import pytest

import pricing
from tests.kitchen import make_book


def test_january_is_compared_with_january(tmp_path: Path) -> None:
    book = make_book(
        tmp_path,
        {
            "ingredients": "ingredient,category,base\nflour,baking,g",
            "prices": """
                ingredient,date,price,currency,pack
                flour,2020-01-10,1.00,USD,1 kg
                flour,2020-02-10,1.10,USD,1 kg
                flour,2021-01-10,1.20,USD,1 kg
            """,
            "dishes": """
                dish,version,effective_from,portions,ingredient,quantity,unit
                loaf,1,2019-01-01,1,flour,1,kg
            """,
        },
        series=(),
    )
    found = pricing.measure_inflation(book, start="2020-01", end="2021-01")
    # 1.00 → 1.20 is 20 %; from February it would be 1.20 ÷ 1.10, 9.1 %
    assert found.rate_12_pct == pytest.approx(20)
    assert [month.rate_12_pct for month in found.months] == [None] * 12 + [pytest.approx(20)]
    (baking,) = found.by_category
    assert (baking.rate_12_pct, baking.contribution_12) == (pytest.approx(20), pytest.approx(20))
