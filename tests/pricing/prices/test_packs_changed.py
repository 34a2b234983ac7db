"""Which packs changed for good: only a named product, at one supplier, without going back."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from pricing.prices.packs_changed import packs_changed
from tests.kitchen import TODAY, make_book

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


WEIGHED = """
    ingredient,date,price,currency,pack,supplier,product
    cod,2024-01-10,12.00,USD,1.02 lb,Quay,fillet
    cod,2024-02-10,9.90,USD,0.81 lb,Quay,fillet
    cod,2024-03-10,14.10,USD,1.17 lb,Quay,fillet
    cod,2024-04-10,11.40,USD,0.94 lb,Quay,fillet
"""
IN_THE_NAME = """
    ingredient,date,price,currency,pack,supplier,product
    cod,2024-01-10,8.00,USD,400 g,Quay,Pier fish cakes 400g
    cod,2024-02-10,8.00,USD,400 g,Quay,Pier fish cakes 400g
    cod,2024-03-10,8.00,USD,360 g,Quay,Pier fish cakes 360 g
    cod,2024-03-10,9.00,USD,500 g,Quay,Pier fish fingers 500 g
"""


def test_goods_weighed_at_the_till_have_no_pack_to_change(tmp_path: Path) -> None:
    facts = "ingredient,base\ncod,g"
    book = make_book(tmp_path, {"ingredients": facts, "prices": WEIGHED})
    assert packs_changed(book, first=date(2023, 1, 1), last=TODAY) == []


def test_a_size_written_into_the_name_of_a_product_is_its_pack(tmp_path: Path) -> None:
    facts = "ingredient,base\ncod,g"
    book = make_book(tmp_path, {"ingredients": facts, "prices": IN_THE_NAME})
    (change,) = packs_changed(book, first=date(2023, 1, 1), last=TODAY)
    assert (change.pack_before, change.pack_after) == ("400 g", "360 g")
    assert (change.before_on, change.after_on) == (date(2024, 2, 10), date(2024, 3, 10))
    assert change.unit_relative == pytest.approx(400 / 360)  # the same sticker on less
