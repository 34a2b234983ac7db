"""Swaps at the edges of their rules: a target missed by little, a clash stated once, sums."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from pricing.book.connect import Book
from pricing.swaps.of_catalogue import catalogue_swaps
from pricing.swaps.of_dish import find_swaps
from tests.kitchen import make_book

ON = date(2023, 6, 1)
# A portion of toast: 100 g butter 1.00 and 200 g bread 0.404, 1.404; with margarine for the butter
# (0.196 less) 1.208, with rye for the bread (0.204 less) 1.20. A bun takes 50 g butter.
FILES = {
    "ingredients": "ingredient,base\nbutter,g\nmargarine,g\nbread,g\nrye,g",
    "prices": """
        ingredient,date,price,currency,pack
        butter,2023-05-20,10.00,USD,1 kg
        margarine,2023-05-20,8.04,USD,1 kg
        bread,2023-05-20,2.02,USD,1 kg
        rye,2023-05-20,1.00,USD,1 kg
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit,made_per_month,target
        toast,1,2019-01-01,4,butter,400,g,10,1.40
        toast,1,2019-01-01,4,bread,800,g,10,1.40
        bun,1,2019-01-01,2,butter,100,g,,0.50
    """,
}


def kitchen(folder: Path, swaps: str) -> Book:
    return make_book(folder, {**FILES, "swaps": swaps}, series=())


@pytest.mark.parametrize(("target", "reached"), [(1.21, True), (1.208, True), (1.204, False)])
def test_a_target_missed_by_less_than_half_a_cent_is_missed(
    tmp_path: Path, target: float, reached: bool
) -> None:
    book = kitchen(tmp_path, "ingredient,substitute,ratio\nbutter,margarine,1")
    found = find_swaps(book, "toast", on=ON, target=target).target
    assert found is not None
    assert (found.reached, found.cost_per_portion) == (reached, pytest.approx(1.208))
    assert found.short_by == pytest.approx(0 if reached else 0.004)


@pytest.mark.parametrize(("one", "other"), [("rye", ""), ("", "margarine")])
def test_a_clash_counts_whichever_of_the_two_states_it(
    tmp_path: Path, one: str, other: str
) -> None:
    book = kitchen(
        tmp_path,
        f"ingredient,substitute,ratio,not_with\nbutter,margarine,1,{one}\nbread,rye,1,{other}",
    )
    found = find_swaps(book, "toast", on=ON, target=0.10).target
    assert found is not None
    # both would save 0.40; together they are not to be, so the larger saving of the two, 0.204
    assert [each.substitute for each in found.chosen] == ["rye"]
    assert [point.changes for point in found.frontier] == [0, 1]


def test_over_all_dishes_a_swap_is_made_once_in_each(tmp_path: Path) -> None:
    found = catalogue_swaps(
        kitchen(tmp_path, "ingredient,substitute,ratio\nbutter,margarine,1"), on=ON
    )
    (swap,) = found.swaps
    # a batch of toast takes 400 g butter at 0.00196 less a gram, 0.784; one of buns 100 g, 0.196;
    # ten batches of toast a month 7.84, and of buns nobody says how many are made
    assert (swap.dishes, found.told_how_often) == (2, 1)
    assert swap.saving == pytest.approx(0.784 + 0.196)
    assert swap.saving_per_month == pytest.approx(7.84)
    assert (swap.most_in, swap.most_per_portion) == ("toast", pytest.approx(0.196))
    # toast costs 1.404, over its 1.40; a bun 0.50, which is its target
    assert [(each.dish, pytest.approx(0.004)) for each in found.over_target] == [
        ("toast", found.over_target[0].over)
    ]


def test_without_a_supplier_a_swap_is_looked_at_from_what_the_others_asked(tmp_path: Path) -> None:
    """Quay alone asked for butter before March: without it nothing was seen until Mill did."""
    prices = """
        ingredient,date,price,currency,pack,supplier
        butter,2023-01-10,10.00,USD,1 kg,Quay
        margarine,2023-02-01,8.00,USD,1 kg,Mill
        butter,2023-03-01,10.00,USD,1 kg,Mill
    """
    swaps = "ingredient,substitute,ratio\nbutter,margarine,1"
    book = make_book(tmp_path, {**FILES, "prices": prices, "swaps": swaps}, series=())
    (swap,) = find_swaps(book, "bun", on=date(2023, 3, 9)).swaps
    assert (swap.cheaper_since, swap.since_first_seen) == (date(2023, 2, 1), True)
    (swap,) = find_swaps(book, "bun", on=date(2023, 3, 9), not_supplier=["Quay"]).swaps
    assert (swap.cheaper_since, swap.since_first_seen) == (date(2023, 3, 1), True)


def test_a_dish_that_has_not_begun_moves_no_other_out_of_its_place(tmp_path: Path) -> None:
    """Paste cannot take the place of the butter in itself, nor in the toast that takes it."""
    files = {
        "ingredients": "ingredient,base\nbutter,g",
        "prices": "ingredient,date,price,currency,pack\nbutter,2023-05-20,10.00,USD,1 kg",
        "dishes": """
            dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit
            a draft,1,2199-01-01,1,,butter,10,g
            bun,1,2019-01-01,1,,butter,100,g
            paste,1,2019-01-01,1,100,butter,50,g
            toast,1,2019-01-01,1,,dish:paste,10,g
        """,
        "swaps": "ingredient,substitute,ratio\nbutter,dish:paste,1",
    }
    (swap,) = catalogue_swaps(make_book(tmp_path, files, series=()), on=ON).swaps
    # 100 g butter is 1.00, and 100 g paste 0.50
    assert (swap.dishes, swap.most_in) == (1, "bun")
    assert swap.saving == pytest.approx(0.50)
