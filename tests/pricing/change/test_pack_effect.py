"""What smaller packs did to a price, where the shops are not the same ones any more."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import pricing
from tests.kitchen import make_book


def test_one_of_several_shops_shrank_its_pack(tmp_path: Path) -> None:
    book = make_book(
        tmp_path,
        {
            "ingredients": "ingredient,base\nbutter,g",
            "prices": """
                ingredient,date,price,currency,pack,supplier,product
                butter,2020-01-10,4.00,USD,500 g,Quay,Skerry
                butter,2020-01-10,4.00,USD,500 g,Mill,Holm
                butter,2022-01-10,4.00,USD,400 g,Quay,Skerry
                butter,2022-01-10,5.00,USD,500 g,Mill,Holm
                butter,2022-01-10,10.00,USD,1 kg,Lane,Ness
            """,
            "dishes": """
                dish,version,effective_from,portions,ingredient,quantity,unit
                cake,1,2019-01-01,1,butter,100,g
            """,
        },
    )
    found = pricing.compare(book, "cake", then=date(2020, 1, 20), now=date(2022, 1, 20))
    # A gram: 0.008 → 0.010. Half of the price then, a third of it now, 5/12 in the mean, is of a
    # pack that went from 500 to 400 g: packs alone raised the price by 1.25^(5/12) = 1.0974359. The
    # pack of then would cost 0.010 ÷ 1.0974359 = 0.0091121 a g now; the pack effect is 100 g ×
    # (0.010 − 0.0091121) = 0.0887851, and the rest of the 0.20 is the sticker.
    assert found.price_parts.pack == pytest.approx(0.0887851, abs=1e-7)
    assert found.price_parts.sticker == pytest.approx(0.20 - 0.0887851, abs=1e-7)
    assert found.price_effect == pytest.approx(0.20)
