"""Allergens of a whole dish, and what a new version adds and removes, by the records."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from dashboard.terminal.compare import compare_text
from dashboard.terminal.cost import cost_text
from pricing.book.connect import Book
from pricing.change.compare import compare
from pricing.contents.settings import book_settings
from pricing.dishes.cost import cost_dish
from pricing.swaps.of_dish import find_swaps
from tests.kitchen import load, make_book

ON = date(2026, 11, 10)
FILES = {
    "ingredients": """
        ingredient,base,allergens
        cream,g,milk
        flour,g,wheat
        stock,g,
        leek,g,none
        celeriac,g,celery
        topping,g,
        salt,g,none
    """,
    "prices": """
        ingredient,date,price,currency,pack
        cream,2026-11-01,4.00,USD,1 kg
        flour,2026-11-01,1.00,USD,1 kg
        stock,2026-11-01,2.00,USD,1 kg
        leek,2026-11-01,3.00,USD,1 kg
        celeriac,2026-11-01,2.00,USD,1 kg
        topping,2026-11-01,9.00,USD,1 kg
        salt,2026-11-01,1.00,USD,1 kg
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit,pantry
        sauce,1,2026-01-01,4,cream,400,g,no
        sauce,1,2026-01-01,4,flour,40,g,yes
        bake,1,2026-01-01,2,dish:sauce,2,portion,no
        bake,1,2026-01-01,2,leek,200,g,no
        bake,1,2026-01-01,2,salt,5,g,no
        bake,2,2026-11-05,2,dish:sauce,2,portion,no
        bake,2,2026-11-05,2,celeriac,200,g,no
        bake,2,2026-11-05,2,salt,5,g,no
        soup,1,2026-01-01,2,stock,400,g,no
        soup,1,2026-01-01,2,cream,50,g,no
        soup,2,2026-11-05,2,stock,400,g,no
        soup,2,2026-11-05,2,leek,50,g,no
        tart,1,2026-01-01,2,cream,100,g,no
        tart,1,2026-01-01,2,topping,100,g,no
    """,
    "swaps": "ingredient,substitute,ratio\ncream,leek,1",
}


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return make_book(tmp_path, FILES, series=())


def record(book: Book, allergens: str) -> None:
    """Put the allergens of the topping into the book."""
    text = f"ingredient,base,allergens\ntopping,g,{allergens}"
    assert load(book, "ingredients", text, replace=True).problems == ()


def test_a_dish_tells_those_of_its_sub_recipes_and_pantry_lines(book: Book) -> None:
    found = cost_dish(book, "bake", on=ON)
    assert found.as_json()["allergens"] == {
        "names": ["celery", "milk", "wheat"], "unknown": [], "allergen_list": "us",
    }  # fmt: skip


def test_an_ingredient_without_a_record_is_unknown(book: Book) -> None:
    found = cost_dish(book, "soup", on=ON, version="1").allergens
    assert (found.names, found.unknown) == (("milk",), ("stock",))


def test_a_word_nobody_knows_is_told_and_its_ingredient_is_unknown(book: Book) -> None:
    record(book, "mayonnaise")
    found = cost_dish(book, "tart", on=ON).allergens
    assert (found.names, found.unknown) == (("mayonnaise", "milk"), ("topping",))


def test_a_new_version_adds_and_removes(book: Book) -> None:
    found = compare(book, "bake", then=date(2026, 11, 4), now=ON)
    assert found.as_json()["allergens"] == {
        "added": ["celery"], "removed": [], "allergen_list": "us",
    }  # fmt: skip


def test_what_a_new_version_removes_is_unknown_beside_an_unknown_record(book: Book) -> None:
    found = compare(book, "soup", then=date(2026, 11, 4), now=ON)
    assert (found.allergens.added, found.allergens.removed) == ((), "unknown")
    back = compare(book, "soup", then=(date(2026, 11, 4), "2"), now=(ON, "1")).allergens
    assert (back.added, back.removed) == (("milk",), "unknown")


def test_nothing_changes_where_the_recipe_is_the_same_one(book: Book) -> None:
    found = compare(book, "tart", then=date(2026, 11, 4), now=ON).allergens
    assert (found.added, found.removed) == ((), ())


@pytest.mark.parametrize(
    ("entered", "taken", "removed"),
    [
        ("goat's cheese", "milk", ()),
        ("yoghurt", "milk", ()),
        ("bulgur", "wheat", ()),
        ("pine nuts", "nuts", ()),
        ("mustard", "milk", ("milk",)),
        ("qurt", "milk", "unknown"),  # a word the list does not know
        ("mayonnaise", "eggs", "unknown"),
    ],
)
def test_what_is_left_in_a_dish_keeps_removed_from_being_told(
    book: Book, entered: str, taken: str, removed: tuple[str, ...] | str
) -> None:
    record(book, entered)
    text = f"ingredient,base,allergens\ncream,g,{taken}"
    assert load(book, "ingredients", text, replace=True).problems == ()
    (swap,) = find_swaps(book, "tart", on=ON).swaps
    assert (swap.allergens_added, swap.allergens_removed) == ((), removed)


def test_the_terminal_says_it_in_a_line(book: Book) -> None:
    record(book, "pine nuts; mayonnaise")
    said = " ".join(cost_text(cost_dish(book, "tart", on=ON), book_settings(book)).split())
    assert (
        "Allergens, by the ingredient records: mayonnaise, milk, pine nuts (tree nuts); unknown of "
        "topping. Check the labels." in said
    )
    said = " ".join(compare_text(compare(book, "bake", then=date(2026, 11, 4), now=ON)).split())
    assert said.endswith(
        "Allergens, by the ingredient records, from then to now: adds celery. Check the labels."
    )
