"""Swaps over all dishes: sums by pencil, dishes over their target, and a book that is damaged."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from pricing.book.connect import Book, writing
from pricing.errors import RecipeRefused
from pricing.swaps.of_catalogue import catalogue_swaps
from tests.kitchen import make_book

ON = date(2023, 6, 1)
FILES = {
    "ingredients": """
        ingredient,base
        butter,g
        margarine,g
        bread,g
        flour,g
    """,
    # per g: butter 0.010, margarine 0.008, bread 0.002, flour 0.001
    "prices": """
        ingredient,date,price,currency,pack
        butter,2023-05-10,10.00,USD,1 kg
        margarine,2023-05-10,8.00,USD,1 kg
        bread,2023-05-10,2.00,USD,1 kg
        flour,2023-05-10,1.00,USD,1 kg
    """,
    # per portion: toast 100 g butter and 200 g bread: 1.40; sauce 50 g butter and 20 g flour: 0.52;
    # pie 200 g flour and two portions of sauce (100 g butter, 40 g flour): 0.20 + 1.04 = 1.24
    "dishes": """
        dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit,made_per_month,target
        toast,1,2019-01-01,4,,butter,400,g,30,1.39
        toast,1,2019-01-01,4,,bread,800,g,30,1.39
        sauce,1,2019-01-01,10,1000,butter,500,g,,
        sauce,1,2019-01-01,10,1000,flour,200,g,,
        pie,1,2019-01-01,5,,flour,1000,g,2,1.24
        pie,1,2019-01-01,5,,dish:sauce,10,portion,2,1.24
    """,
    "swaps": "ingredient,substitute,ratio\nbutter,margarine,1\n",
}


def test_a_swap_saves_in_every_dish_that_takes_the_ingredient(tmp_path: Path) -> None:
    found = catalogue_swaps(make_book(tmp_path, FILES), on=ON)
    (swap,) = found.swaps
    # 0.002 a g. Batches: toast 400 g and pie 500 g in its sauce: 0.80 + 1.00. The sauce, which only
    # the pie takes, is not counted once more.
    assert (swap.dishes, found.dishes) == (2, 2)
    assert swap.saving == pytest.approx(1.80, abs=1e-12)
    # toast 30 × 0.80 and pie 2 × 1.00
    assert swap.saving_per_month == pytest.approx(26.00, abs=1e-12)
    assert found.told_how_often == 2
    assert swap.most_per_portion == pytest.approx(0.20, abs=1e-12)  # 100 g, in toast and in pie


def test_a_dish_is_over_its_target_by_a_cent_but_not_at_it(tmp_path: Path) -> None:
    found = catalogue_swaps(make_book(tmp_path, FILES), on=ON)
    (over,) = found.over_target
    assert (found.targets, over.dish) == (2, "toast")
    assert over.over == pytest.approx(0.01, abs=1e-12)


def test_a_dish_over_its_target_by_less_than_half_a_cent_is_over_it(tmp_path: Path) -> None:
    dishes = FILES["dishes"].replace(",1.24", ",1.236").replace(",1.39", ",1.40")
    found = catalogue_swaps(make_book(tmp_path, {**FILES, "dishes": dishes}), on=ON)
    assert [each.dish for each in found.over_target] == ["pie"]
    assert found.over_target[0].over == pytest.approx(0.004, abs=1e-12)


def close_the_circle(book: Book) -> None:
    """Let the sauce take the pie, around the checks of loading: only damage can do that."""
    with writing(book) as con:
        con.execute(
            """INSERT INTO dish_line (batch, version_row, position, sub_dish_id, quantity, unit,
                                      amount, dimension, state, pantry)
               SELECT sauce.batch, sauce.row_id, 3, pie.dish_id, '1', 'portion', 1, 'portion',
                      'as_purchased', false
               FROM dish_version_now AS sauce, dish_version_now AS pie
               WHERE sauce.dish = 'sauce' AND pie.dish = 'pie'"""
        )


def test_a_damaged_circle_of_dishes_is_refused_with_its_path(tmp_path: Path) -> None:
    book = make_book(tmp_path, FILES)
    close_the_circle(book)
    with pytest.raises(RecipeRefused, match=r"uses itself: pie → sauce → pie; expected"):
        catalogue_swaps(book, on=ON)
