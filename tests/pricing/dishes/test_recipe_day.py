"""Which day's sub-recipes a version is costed with, by a calendar of three versions."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from pricing.book.connect import reading
from pricing.dishes.recipes import read_dish
from tests.kitchen import make_book

# a from 2010 to 2014, b from 2015 to 2019, c from 2020 on; d is replaced by c on its first day
FILES = {
    "ingredients": "ingredient,base\nleek,g",
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        bake,a,2010-01-01,1,leek,10,g
        bake,b,2015-01-01,1,leek,20,g
        bake,d,2020-01-01,1,leek,30,g
        bake,c,2020-01-01,1,leek,40,g
    """,
}


@pytest.mark.parametrize(
    ("version", "on", "expected"),
    [
        ("a", date(2012, 5, 6), date(2012, 5, 6)),  # in force
        ("a", date(2014, 12, 31), date(2014, 12, 31)),
        ("a", date(2015, 1, 1), date(2014, 12, 31)),  # the last day it was in force
        ("a", date(2026, 5, 6), date(2014, 12, 31)),
        ("b", date(2012, 5, 6), date(2015, 1, 1)),  # not begun: the day it begins
        ("b", date(2026, 5, 6), date(2019, 12, 31)),
        ("c", date(2026, 5, 6), date(2026, 5, 6)),
        ("d", date(2026, 5, 6), date(2020, 1, 1)),  # never in force
        ("a", date(2009, 5, 6), date(2010, 1, 1)),  # the first, before it begins
    ],
)
def test_recipe_day(tmp_path: Path, version: str, on: date, expected: date) -> None:
    with reading(make_book(tmp_path, FILES)) as con:
        dish_id, recipes = read_dish(con, "bake")
    assert recipes.recipe_day(recipes.named(dish_id, version), on) == expected
