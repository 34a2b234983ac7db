"""A recipe scaled to so many portions, worked out by pencil."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import pricing
from pricing.errors import InputRefused
from tests.kitchen import make_book
from tests.terminal import run

FILES = {
    "ingredients": "ingredient,base\nleek,g",
    "prices": "ingredient,date,price,currency,pack\nleek,2026-11-10,2.00,USD,1 kg",
    "dishes": "dish,version,effective_from,portions,ingredient,quantity,unit\n"
    "soup,1,2020-01-01,4,leek,800,g",
}
ON = date(2026, 11, 24)


def test_a_batch_grows_and_a_portion_stays(tmp_path: Path) -> None:
    found = pricing.cost_dish(make_book(tmp_path, FILES, series=()), "soup", on=ON, scaled_to=10)
    # 200 g a portion at 0.002 = 0.40; ten of them 2 kg = 4.00
    assert (found.portions, found.cost_per_batch) == (10, pytest.approx(4.00))
    assert found.cost_per_portion == pytest.approx(0.40)
    assert found.lines[0].as_purchased == pytest.approx(2000)
    assert (found.recipe_portions, found.batch_weight_g) == (4, None)


def test_what_a_batch_weighs_grows_and_its_work_is_that_of_the_recipe(tmp_path: Path) -> None:
    stated = (
        "dish,version,effective_from,portions,batch_weight_g,minutes,ingredient,quantity,unit\n"
    )
    files = FILES | {"dishes": stated + "soup,1,2020-01-01,4,1000,30,leek,800,g"}
    book = make_book(tmp_path, files, series=())
    # ten of four portions are two and a half batches of 1 kg; 30 minutes ÷ 4 = 7.5
    found = pricing.cost_dish(book, "soup", on=ON, scaled_to=10)
    assert (found.batch_weight_g, found.minutes) == (pytest.approx(2500), 30)
    said = " ".join(run("cost", "soup", "--portions", "10", book=book.path).stdout.split())
    assert "($4.00 for 10 portions, scaled from 4; " in said
    assert "30 minutes of work for 4 portions, as the recipe is written, 7.5 a portion." in said
    said = " ".join(run("cost", "soup", book=book.path).stdout.split())
    assert "($1.60 for 4 portions; " in said
    assert "30 minutes of work a batch, 7.5 a portion." in said


def test_a_batch_of_another_dish_is_scaled_with_its_lines(tmp_path: Path) -> None:
    more = "\nstew,1,2020-01-01,2,dish:soup,1,portion\nstew,1,2020-01-01,2,leek,100,g"
    book = make_book(tmp_path, FILES | {"dishes": FILES["dishes"] + more}, series=())
    found = pricing.cost_dish(book, "stew", on=ON, scaled_to=6)
    soup, leek = found.lines
    # three batches: three portions of 200 g, and 300 g, at 0.002
    assert (soup.quantity, soup.lines[0].as_purchased) == (pytest.approx(3), pytest.approx(600))
    assert leek.as_purchased == pytest.approx(300)
    assert found.cost_per_batch == pytest.approx(1.80)


@pytest.mark.parametrize("portions", [0, -2, 1e7, 1e308, float("nan"), float("inf")])
def test_no_portions_are_refused(tmp_path: Path, portions: float) -> None:
    book = make_book(tmp_path, FILES, series=())
    with pytest.raises(InputRefused, match="portions; expected a number above 0"):
        pricing.cost_dish(book, "soup", on=ON, scaled_to=portions)
