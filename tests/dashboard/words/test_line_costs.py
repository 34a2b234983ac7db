"""Printed lines add up to the figure printed above them, at every depth."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

from dashboard.words.line_costs import shown_costs
from pricing.dishes.cost import cost_dish
from tests.kitchen import make_book


def test_lines_of_each_part_add_up_to_the_part(tmp_path: Path) -> None:
    book = make_book(
        tmp_path,
        {
            "ingredients": "ingredient,base\nleek,g\nrice,g",
            "prices": """
                ingredient,date,price,currency,pack
                leek,2024-01-10,3.35,USD,1 kg
                rice,2024-01-10,1.675,USD,1 kg
            """,
            # stew 0.335 (twice 0.1675), soup 0.335, a plate of both 0.67
            "dishes": """
                dish,version,effective_from,portions,ingredient,quantity,unit
                stew,1,2020-01-01,1,leek,50,g
                stew,1,2020-01-01,1,rice,100,g
                soup,1,2020-01-01,1,leek,100,g
                plate,1,2020-01-01,1,dish:stew,1,portion
                plate,1,2020-01-01,1,dish:soup,1,portion
            """,
        },
        series=(),
    )
    cost = cost_dish(book, "plate", on=date(2024, 1, 10))
    shown = shown_costs(cost)
    stew, soup = cost.lines
    # half a cent each way: one of the two parts must be 0.33, and so must the leek inside it,
    # although 0.335 alone would be printed as 0.34
    assert (shown[id(stew)], shown[id(soup)]) == (Decimal("0.34"), Decimal("0.33"))
    assert [shown[id(line)] for line in stew.lines] == [Decimal("0.17"), Decimal("0.17")]
    assert [shown[id(line)] for line in soup.lines] == [Decimal("0.33")]
