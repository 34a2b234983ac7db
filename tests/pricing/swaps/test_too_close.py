"""When a saving is too close to call: only where the band says so."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from pricing.swaps.of_dish import find_swaps
from pricing.swaps.records import SwapChoice
from tests.kitchen import make_book

ON = date(2026, 6, 20)


def saving(tmp_path: Path, prices: str) -> SwapChoice:
    book = make_book(
        tmp_path,
        {
            "ingredients": "ingredient,base\nleek,g\nchard,g\n",
            "prices": f"ingredient,date,price,currency,pack,supplier\n{prices}",
            "dishes": """
                dish,version,effective_from,portions,ingredient,quantity,unit
                tart,1,2026-01-01,1,leek,100,g
            """,
            "swaps": "ingredient,substitute,ratio\nleek,chard,1\n",
        },
        series=(),
    )
    (found,) = find_swaps(book, "tart", on=ON).swaps
    return found


def test_a_difference_on_one_shelf_on_one_day_is_certain_however_small(tmp_path: Path) -> None:
    """100 g at 3.00 and at 2.99 a kilogram: a tenth of a cent, and certain."""
    found = saving(
        tmp_path, "leek,2026-06-15,3.00,USD,1 kg,Mill\nchard,2026-06-15,2.99,USD,1 kg,Mill\n"
    )
    assert found.saving == pytest.approx(0.001)
    assert found.typical_error is None
    assert found.too_close is False


def test_shops_that_lie_far_apart_make_a_saving_too_close_to_call(tmp_path: Path) -> None:
    """Pencil. Leek is 2.00 and 4.00 a kilogram at two shops: a mean of 3.00 with a standard error
    of √(2 × 2)/2 = 1.00, of which 0.67449 counts: 0.067449 for 100 g. Chard is 2.95: a saving of
    0.005, inside that. At 2.20 the saving is 0.08, outside.
    """
    leek = "leek,2026-06-15,2.00,USD,1 kg,Mill\nleek,2026-06-15,4.00,USD,1 kg,Quay\n"
    found = saving(tmp_path, f"{leek}chard,2026-06-15,2.95,USD,1 kg,Mill\n")
    assert found.saving == pytest.approx(0.005)
    assert found.typical_error == pytest.approx(0.067449, abs=1e-6)
    assert found.too_close is True
    (tmp_path / "other").mkdir()
    found = saving(tmp_path / "other", f"{leek}chard,2026-06-15,2.20,USD,1 kg,Mill\n")
    assert found.saving == pytest.approx(0.08)
    assert found.too_close is False
