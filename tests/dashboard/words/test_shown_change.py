"""A change as it is shown: its parts add up to the difference of the two costs as shown."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from dashboard.words.change import shown_change
from pricing.change.compare import compare
from tests.kitchen import make_book


def test_parts_add_up_to_what_a_reader_subtracts(tmp_path: Path) -> None:
    book = make_book(
        tmp_path,
        {
            "ingredients": "ingredient,base\nleek,g",
            "prices": """
                ingredient,date,price,currency,pack
                leek,2020-01-10,3.34,USD,1 kg
                leek,2022-01-10,3.40,USD,1 kg
            """,
            "dishes": """
                dish,version,effective_from,portions,ingredient,quantity,unit
                soup,1,2019-01-01,1,leek,100,g
                soup,2,2021-01-01,1,leek,102,g
            """,
        },
    )
    found = compare(book, "soup", then=date(2020, 1, 10), now=date(2022, 1, 10))
    # 0.334 then, 0.340 for the old recipe now and 0.3468 now: $0.33, $0.34 and $0.35, two cents
    # apart, though the change itself is 0.0128: 0.006 by prices and 0.0068 by the recipe
    assert found.change == pytest.approx(0.0128)
    assert shown_change(found) == ("+$0.02", "+$0.01", "+$0.01")
    back = compare(book, "soup", then=(date(2022, 1, 10), "2"), now=(date(2020, 1, 10), "1"))
    # the other way round by way of 102 g at 3.34: 0.34068
    assert shown_change(back) == ("−$0.02", "−$0.01", "−$0.01")
