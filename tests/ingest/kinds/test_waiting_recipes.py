"""Recipe lines that wait: the dish costs "at least" until someone decides, and then all of it."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path
from typing import Any

import pytest

import pricing
from pricing.book.connect import Book
from tests.ingest.tray.bring import decide, decided
from tests.ingest.tray.conftest import book, stocked
from tests.kitchen import load
from tests.loading import ask, only

__all__ = ["book", "stocked"]
HEAD = "dish,version,effective_from,portions,minutes,ingredient,quantity,unit,state,note,pantry\n"
PRICES = """
    ingredient,date,price,currency,pack
    leek,2026-11-02,3,USD,1 kg
    whole milk,2026-11-02,1,USD,1 l
    pearl barley,2026-11-02,2,USD,1 kg
"""
ON = date(2026, 11, 24)


def dish(*lines: str, version: str = "1") -> str:
    return HEAD + "".join(f"chowder,{version},2026-01-01,4,20,{each}\n" for each in lines)


def cost(book: Book) -> dict[str, Any]:
    return dict(pricing.cost_dish(book, "chowder", on=ON).as_json())


def lines(book: Book) -> list[tuple[Any, ...]]:
    return ask(
        book,
        "SELECT n.name, l.quantity, l.unit FROM dish_line l JOIN dish_version_now v "
        "ON v.row_id = l.version_row JOIN ingredient n USING (ingredient_id) "
        "WHERE v.dish = 'chowder' ORDER BY v.row_id, l.position",
    )


@pytest.fixture
def priced(book: Book) -> Book:
    load(book, "prices", PRICES)
    return book


LEEK = "leek,500,g,,,"


def test_a_dish_with_a_line_that_waits_costs_at_least(priced: Book) -> None:
    """500 g of leek at 3 a kilo are 1.50; for 4 portions 0.375 each."""
    report = load(priced, "dishes", dish(LEEK, "waiting: MOO juice,1,l,,one litre of moo,"))
    assert report.added == 2
    assert report.remarks == (
        "1 line of 'chowder' waits for a decision: 'MOO juice'. Until then its cost is 'at least'. "
        "See `portiondrift tray`.",
    )
    found = cost(priced)
    assert (found["complete"], found["cost_per_batch"], found["cost_per_portion"]) == (
        False,
        1.5,
        0.375,
    )
    assert found["lines"][1]["basis"] == "missing"
    assert found["lines"][1]["reason"].startswith(
        "It waits in the tray: for which ingredient it is"
    )


def test_decided_it_costs_what_a_dish_loaded_with_the_ingredient_costs(
    priced: Book, tmp_path: Path
) -> None:
    """1 l of milk at 1 a litre and 1.50 of leek are 2.50; other lines, details and notes stay."""
    other = Book(path=tmp_path / "other.duckdb")
    shutil.copyfile(priced.path, other.path)
    load(
        priced,
        "dishes",
        dish(LEEK, "waiting: MOO juice,1,l,,one litre,", "dish:white sauce,1,portion,,,"),
    )
    load(other, "dishes", dish(LEEK, "whole milk,1,l,,one litre,", "dish:white sauce,1,portion,,,"))
    report = decide(priced, ",moo juice,whole milk,")
    assert report.remarks == ("1 recipe line settled in 1 dish version.",)
    assert cost(priced) == cost(other)
    milk, sauce = 1.0, 0.9 / 4  # 900 ml of milk at 1 a litre make 4 portions of sauce
    assert cost(priced)["cost_per_batch"] == pytest.approx(1.5 + milk + sauce)
    kept = ask(priced, "SELECT minutes FROM dish_version_now WHERE dish = 'chowder'")
    assert [float(each) for (each,) in kept] == [20.0]


def test_a_line_that_is_no_ingredient_goes(priced: Book) -> None:
    load(priced, "dishes", dish(LEEK, "waiting: serviettes,4,each,,,"))
    decided(priced, ",serviettes,not an ingredient,")
    assert lines(priced) == [("leek", "500", "g")]
    assert cost(priced)["complete"]


def test_a_line_whose_unit_cannot_be_counted_goes_on_waiting_and_says_why(priced: Book) -> None:
    load(priced, "dishes", dish(LEEK, "waiting: odd,2,handful,,two handfuls,"))
    report = decide(priced, ",odd,barley,")
    assert (report.added, report.problems) == (1, ())
    assert report.remarks == (
        "'two handfuls' of chowder still waits: 2 handful of pearl barley needs its measure "
        "'handful'. Load that first, then the decision again.",
    )
    assert not cost(priced)["complete"]
    load(priced, "measures", "ingredient,measure,grams\npearl barley,handful,50")
    assert decide(priced, ",odd,barley,").already == 1
    # 2 handfuls of 50 g at 2 a kilo are 0.20
    assert cost(priced)["cost_per_batch"] == pytest.approx(1.7)


def test_an_edible_amount_without_a_yield_goes_on_waiting(priced: Book) -> None:
    load(priced, "dishes", dish(LEEK, "waiting: odd,200,g,edible,,"))
    (remark,) = decide(priced, ",odd,barley,").remarks
    assert remark.startswith(
        "'200 g odd' of chowder still waits: 200 g of pearl barley needs its yield."
    )


def test_a_line_without_an_amount_takes_the_pack_of_the_decision(priced: Book) -> None:
    """10 g of barley at 2 a kilo are 0.02."""
    load(priced, "dishes", dish(LEEK, "waiting: odd,1,some,,odd to taste,"))
    (remark,) = decide(priced, ",odd,barley,").remarks
    assert remark.startswith("'odd to taste' of chowder still waits: it states no amount.")
    decided(priced, ",odd,barley,10 g", replace=True)
    assert lines(priced)[1] == ("pearl barley", "10", "g")
    assert cost(priced)["cost_per_batch"] == pytest.approx(1.52)


def test_a_decision_for_one_sender_is_none_for_recipes(priced: Book) -> None:
    load(priced, "dishes", dish(LEEK, "waiting: moo,1,l,,,"))
    decided(priced, "Shop A,moo,whole milk,")
    assert not cost(priced)["complete"]


def test_a_recipe_again_adds_nothing_before_and_after_the_decision(priced: Book) -> None:
    text = dish(
        LEEK, "waiting: moo,1,l,,,", "waiting: serviettes,4,each,,,", "waiting: odd,1,some,,,"
    )
    load(priced, "dishes", text)
    again = load(priced, "dishes", text)
    assert (again.load, again.added, again.already) == (None, 0, 4)
    decided(priced, ",moo,whole milk,", ",serviettes,not an ingredient,", ",odd,barley,10 g")
    again = load(priced, "dishes", text)
    assert (again.load, again.added, again.problems) == (None, 0, ())


def test_the_same_words_in_a_new_recipe_are_known_from_then_on(priced: Book) -> None:
    load(priced, "dishes", dish(LEEK, "waiting: moo,1,l,,,"))
    decided(priced, ",moo,whole milk,")
    report = load(priced, "dishes", dish("waiting: Moo,2,l,,,", version="2"))
    assert "wait" not in " ".join(report.remarks)
    assert lines(priced)[-1] == ("whole milk", "2", "l")


def test_the_words_of_a_line_that_waits_are_needed(priced: Book) -> None:
    problem = only(load(priced, "dishes", dish("waiting: ,1,l,,,")))
    assert problem.sentence() == (
        "line 2, column ingredient: found 'waiting:'; expected the words of the line after "
        "'waiting:'. Write it like waiting: smoked salt."
    )
