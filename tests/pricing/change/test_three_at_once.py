"""An ingredient of which the amount, the trim and the number of portions all change."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import pricing
from tests.kitchen import make_book


def test_all_orders_of_change_count_alike(tmp_path: Path) -> None:
    book = make_book(
        tmp_path,
        {
            "ingredients": "ingredient,base,yield_pct\nleek,g,50\nbeef,g,\nsalt,g,",
            "prices": """
                ingredient,date,price,currency,pack
                leek,2019-12-10,10.00,USD,1 kg
                beef,2019-12-10,10.00,USD,1 kg
                salt,2019-12-10,10.00,USD,1 kg
            """,
            # as much beef and salt for 8 as for 4, so the batch has not grown
            "dishes": """
                dish,version,effective_from,portions,ingredient,quantity,unit,state
                stew,1,2019-01-01,4,leek,40,g,
                stew,1,2019-01-01,4,beef,400,g,
                stew,1,2019-01-01,4,salt,8,g,
                stew,2,2021-01-01,8,leek,20,g,edible
                stew,2,2021-01-01,8,beef,400,g,
                stew,2,2021-01-01,8,salt,8,g,
            """,
        },
        series=(),
    )
    found = pricing.compare(book, "stew", then=date(2020, 1, 20), now=date(2022, 1, 20))
    (leek,) = [each for each in found.ingredients if each.ingredient == "leek"]
    parts = leek.recipe_parts
    assert parts is not None
    # Needed 40 → 20 g, bought per unit needed 1 → 2, of the batch ¼ → ⅛. Of the six orders two let
    # a factor change first, two last, and one between each of the others (Shapley):
    # amount −20 · (2(1·¼ + 2·⅛) + 1·⅛ + 2·¼)/6 = −32.5/6; trim +1 · (2(40·¼ + 20·⅛) + 40·⅛ +
    # 20·¼)/6 = 35/6; portions −⅛ · (2(40·1 + 20·2) + 40·2 + 20·1)/6 = −32.5/6. Together −5 g, which
    # is 10 → 5 g a portion, at 0.01 a gram.
    assert parts.amount == pytest.approx(-0.325 / 6)
    assert parts.trim == pytest.approx(0.35 / 6)
    assert parts.portions == pytest.approx(-0.325 / 6)
    assert leek.recipe_effect == pytest.approx(-0.05)
