"""Taking decisions back: lines wait again, and what rests on a load keeps it from being undone."""

from __future__ import annotations

from datetime import date

import pytest

import pricing
from ingest.load import undo
from pricing.book.connect import Book
from pricing.book.keeping.check import check
from pricing.errors import InputRefused
from tests.ingest.tray.bring import bring, decided, line, seen, waiting
from tests.kitchen import load
from tests.loading import ask

DISH = """
    dish,version,effective_from,portions,ingredient,quantity,unit
    chowder,1,2026-01-01,4,leek,500,g
    chowder,1,2026-01-01,4,waiting: moo,1,l
    chowder,1,2026-01-01,4,waiting: odd,1,kg
"""


def sound(book: Book) -> bool:
    return check(book).problems == ()


def lines(book: Book) -> list[str]:
    found = pricing.cost_dish(book, "chowder", on=date(2026, 11, 24))
    return [each.ingredient for each in found.lines]


def test_decisions_taken_back_let_all_wait_again(book: Book) -> None:
    bring(book, line("ZRV"), line("crate", line=3))
    load(book, "dishes", DISH)
    before = lines(book)
    made = decided(book, ",ZRV,leek,500 g", ",crate,not an ingredient,", ",moo,whole milk,")
    assert (waiting(book), len(seen(book)), sound(book)) == ([], 1, True)
    assert lines(book)[1] == "whole milk"
    assert undo(book, made) > 0
    assert (waiting(book), seen(book), sound(book)) == (["ZRV", "crate"], [], True)
    assert lines(book) == before
    assert bring(book, line("ZRV", "4"), line("crate", "2", line=3)).waiting == 2
    with pytest.raises(InputRefused, match="undone already"):
        undo(book, made)


def test_a_load_whose_lines_were_settled_is_needed_by_the_decisions(book: Book) -> None:
    brought = bring(book, line("ZRV")).load
    made = decided(book, ",ZRV,leek,500 g")
    assert brought is not None
    with pytest.raises(InputRefused) as refused:
        undo(book, brought)
    assert str(refused.value) == (
        f"Cannot undo load {brought}: 'ZRV' is still used by the rows of load {made} (decisions); "
        "expected nothing in force to need it. Undo that one first."
    )
    assert (len(seen(book)), sound(book)) == (1, True)
    undo(book, made)
    undo(book, brought)
    assert (waiting(book), seen(book), sound(book)) == ([], [], True)


def test_a_dish_that_decisions_stored_anew_keeps_its_load(book: Book) -> None:
    loaded = load(book, "dishes", DISH).load
    made = decided(book, ",moo,whole milk,")
    assert loaded is not None
    with pytest.raises(
        InputRefused, match=rf"'chowder' is still used .* load {made} \(decisions\)"
    ):
        undo(book, loaded)
    undo(book, made)
    undo(book, loaded)
    assert ask(book, "SELECT count(*) FROM dish_version_now WHERE dish = 'chowder'") == [(0,)]


def test_older_decisions_on_a_dish_are_taken_back_after_newer_ones(book: Book) -> None:
    """Load 5 settles one line, load 6 the other and holds the whole version: 5 cannot go alone."""
    load(book, "dishes", DISH)
    first, second = decided(book, ",moo,whole milk,"), decided(book, ",odd,barley,")
    with pytest.raises(InputRefused, match=rf"load {second} \(decisions\)"):
        undo(book, first)
    assert (lines(book), sound(book)) == (["leek", "whole milk", "pearl barley"], True)
    undo(book, second)
    assert lines(book) == ["leek", "whole milk", "waiting: odd"]
    undo(book, first)
    assert (lines(book), sound(book)) == (["leek", "waiting: moo", "waiting: odd"], True)


def test_an_ingredient_that_others_use_keeps_the_decisions_that_made_it(book: Book) -> None:
    bring(book, line("ZRV"))
    made = decided(book, "ZRV,treacle,500 g,g", columns="words,ingredient,pack,base")
    later = load(
        book, "prices", "ingredient,date,price,currency,pack\ntreacle,2026-11-04,6,USD,500 g"
    )
    assert later.load is not None
    with pytest.raises(
        InputRefused, match=rf"'treacle' is still used .* load {later.load} \(prices\)"
    ):
        undo(book, made)
    undo(book, later.load)
    undo(book, made)
    assert (waiting(book), sound(book)) == (["ZRV"], True)
    assert ask(book, "SELECT count(*) FROM ingredient_now WHERE name = 'treacle'") == [(0,)]


def test_a_decision_that_took_anothers_place_gives_it_back(book: Book) -> None:
    decided(book, ",ZRV,leek,500 g")
    second = decided(book, ",ZRV,barley,1 kg", replace=True)
    undo(book, second)
    bring(book, line("ZRV"))
    assert [row[0] for row in seen(book)] == ["leek"]


def test_prices_that_came_by_a_decision_stay_when_it_goes(book: Book) -> None:
    """They were loaded as prices; their own load takes them back."""
    made = decided(book, ",ZRV,leek,500 g")
    bring(book, line("ZRV"))
    undo(book, made)
    assert (len(seen(book)), sound(book)) == (1, True)
