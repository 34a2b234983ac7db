"""Which packs changed for good: only a named product, at one supplier, without going back."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from pricing.prices.packs_changed import packs_changed
from tests.kitchen import make_book

INGREDIENTS = """
    ingredient,base
    coffee,g
    milk,ml
    tea,g
"""


def test_only_changes_for_good_are_told(tmp_path: Path) -> None:
    book = make_book(
        tmp_path,
        {
            "ingredients": INGREDIENTS,
            "prices": """
                ingredient,date,price,currency,pack,supplier,product,kind
                coffee,2014-08-02,8.00,USD,16 oz,Quay,Gull roast,
                coffee,2014-09-13,8.00,USD,14 oz,Quay,Gull roast,
                coffee,2014-09-13,8.00,USD,16 oz,Mill,Gull roast,
                coffee,2015-09-13,8.00,USD,1 lb,Mill,Gull roast,
                coffee,2015-10-01,5.00,USD,10 oz,Quay,Gull roast,offer
                coffee,2016-01-01,4.00,USD,8 oz,Quay,,
                coffee,2016-02-01,4.00,USD,6 oz,Quay,,
                milk,2015-01-01,1.00,USD,1 l,Quay,Farm milk,
                milk,2015-02-01,1.80,USD,2 l,Quay,Farm milk,
                milk,2015-03-01,1.00,USD,1 l,Quay,Farm milk,
                tea,2015-01-01,3.00,USD,250 g,Quay,Leaf tea,
                tea,2015-01-01,5.00,USD,500 g,Quay,Leaf tea,
                tea,2015-06-01,3.00,USD,200 g,Quay,Leaf tea,
                tea,2016-06-01,3.10,USD,200 g,Quay,Leaf tea,
                tea,2016-07-01,3.10,USD,150 g,Quay,leaf  TEA,
            """,
        },
    )
    found = packs_changed(book, first=date(2014, 1, 1), last=date(2026, 1, 1))
    # Coffee shrank at Quay; at Mill 16 oz is a pound. Milk is sold in two sizes. Tea: which of the
    # two sizes of one day became 200 g cannot be told; 200 g became 150 g, however its name is put.
    assert [
        (each.ingredient, each.after_on, each.pack_before, each.pack_after) for each in found
    ] == [
        ("coffee", date(2014, 9, 13), "16 oz", "14 oz"),
        ("tea", date(2016, 7, 1), "200 g", "150 g"),
    ]
    coffee = found[0]
    assert round(coffee.unit_relative, 6) == round(16 / 14, 6)
    assert coffee.before_on == date(2014, 8, 2)
    later = packs_changed(book, first=date(2015, 6, 1), last=date(2016, 7, 1))
    assert [each.after_on for each in later] == [date(2016, 7, 1)]
