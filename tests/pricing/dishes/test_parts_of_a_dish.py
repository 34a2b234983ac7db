"""Dishes inside a dish: how much of them, how sure their prices are, and no dish in itself."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import pricing
from pricing.book.connect import writing
from pricing.errors import RecipeRefused
from tests.kitchen import make_book

ON = date(2020, 6, 15)
FILES = {
    "index": """
        series,month,value
        t:grain,2020-01,100
        t:grain,2020-06,110
    """,
    "ingredients": """
        ingredient,base,series
        barley,g,t:grain
        leek,g,
        saffron,g,
    """,
    "prices": """
        ingredient,date,price,currency,pack
        barley,2020-01-10,1.00,USD,1 kg
        leek,2020-06-10,2.00,USD,1 kg
    """,
    # a batch of stock: 1 kg leek, 2.00; of broth: 1 kg leek and 1 kg barley at 1.10, 3.10
    "dishes": """
        dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit
        stock,1,2019-01-01,4,500,leek,1,kg
        broth,1,2019-01-01,4,,leek,1,kg
        broth,1,2019-01-01,4,,barley,1,kg
        paella,1,2019-01-01,1,,saffron,1,g
        plate,1,2019-01-01,1,,dish:stock,1,portion
        plate,1,2019-01-01,1,,dish:stock,1,batch
        plate,1,2019-01-01,1,,dish:stock,50,g
        plate,1,2019-01-01,1,,dish:broth,1,portion
        plate,1,2019-01-01,1,,dish:paella,1,portion
    """,
}


def test_a_portion_a_batch_a_weight_and_the_weakest_price_inside(tmp_path: Path) -> None:
    book = make_book(tmp_path, FILES, series=())
    cost = pricing.cost_dish(book, "plate", on=ON)
    # a quarter, the whole, a tenth (50 of 500 g) of 2.00; a quarter of 3.10; nothing known
    assert [line.cost for line in cost.lines] == pytest.approx([0.50, 2.00, 0.20, 0.775, 0])
    bases = ["observed", "observed", "observed", "bridged", "missing"]
    assert [line.basis for line in cost.lines] == bases
    assert (cost.complete, cost.display["cost_per_portion"]) == (False, "at least $3.48")
    (plate,) = pricing.drift_points(book, ["plate"], start="2020-06", end="2020-06").dishes
    assert plate.points[0].cost_per_portion == pytest.approx(3.475)
    # of 3.475 an index moved the barley alone: a quarter of 1.10
    assert plate.points[0].share_bridged == pytest.approx(0.275 / 3.475)


def test_a_dish_that_takes_itself_is_refused_with_its_path(tmp_path: Path) -> None:
    book = make_book(tmp_path, FILES, series=())
    with writing(book) as con:  # no file can say so: stock takes the plate, which takes stock
        con.execute(
            "INSERT INTO dish_line (batch, version_row, position, sub_dish_id, quantity, unit, "
            "amount, dimension, state, pantry) SELECT v.batch, v.row_id, 2, p.dish_id, '1', "
            "'portion', 1, 'portion', 'as_purchased', false FROM dish_version_now v, dish p "
            "WHERE v.dish = 'stock' AND p.name = 'plate'"
        )
    with pytest.raises(RecipeRefused, match="uses itself: plate → stock → plate"):
        pricing.cost_dish(book, "plate", on=ON)
