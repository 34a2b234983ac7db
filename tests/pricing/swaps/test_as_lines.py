"""Chosen swaps become the lines of a version to come, by pencil."""

from __future__ import annotations

from pathlib import Path

import pytest

from ingest.dish_by_hand import add_dish
from pricing.book.connect import Book
from pricing.dishes.cost import cost_dish
from pricing.dishes.written import WrittenLine
from pricing.swaps.as_lines import swapped_version
from pricing.swaps.of_dish import find_swaps
from pricing.swaps.swap import SwapName
from tests.kitchen import TODAY, make_book

FILES = {
    "ingredients": """
        ingredient,base,density_g_per_ml,yield_pct
        leek,g,,80
        celeriac,g,,75
        butter,g,,
        oil,ml,0.92,
        barley,g,,
    """,
    "dishes": """
        dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit,state,pantry,note
        stock,1,2026-01-01,8,2000,leek,400,g,,,
        leek pie,1,2026-06-01,4,,Leek,600,g,edible,,in rings
        leek pie,1,2026-06-01,4,,butter,4,oz,,yes,
        leek pie,1,2026-06-01,4,,leek,100,g,,,for the top
        leek pie,1,2026-06-01,4,,dish:stock,500,g,,,
        porridge,1,2026-06-01,2,900,barley,200,g,,,
    """,
    "prices": """
        ingredient,date,price,currency,pack,supplier
        leek,2026-11-20,3.00,USD,1 kg,Salt Lane
        celeriac,2026-11-20,1.00,USD,1 kg,Salt Lane
        butter,2026-11-20,10.00,USD,1 kg,Salt Lane
        oil,2026-11-20,4.00,USD,1 l,Salt Lane
        barley,2026-11-20,2.00,USD,1 kg,Salt Lane
    """,
    "swaps": """
        ingredient,substitute,ratio,ratio_state
        leek,celeriac,1,edible
        butter,oil,0.9,as_purchased
        butter,butter,0.5,as_purchased
        leek,dish:porridge,1,as_purchased
        butter,leave out,0,
    """,
}  # fmt: skip


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return make_book(tmp_path, FILES)


def named(book: Book, *words: str) -> list[SwapName]:
    every = {each.in_words(): each for each in find_swaps(book, "leek pie", on=TODAY).swaps}
    return [every[each] for each in words]


def written(book: Book, *words: str) -> list[tuple[str, str, str, bool]]:
    found = swapped_version(book, "leek pie", None, named(book, *words), on=TODAY)
    return [(each.ingredient, each.quantity, each.unit, each.pantry) for each in found.lines]


def test_each_line_takes_the_substitute_by_the_ratio_as_purchased(book: Book) -> None:
    """The ratio 1 of edible portions is 80 ÷ 75 as purchased. 600 g edible leek are 750 g, so 800 g
    of celeriac; 100 g of leek 106.667 g. 4 oz are 113.398 g of butter, × 0.9 ml of oil: 102.058."""
    found = swapped_version(
        book, "leek pie", None, named(book, "celeriac for leek", "oil for butter"), on=TODAY
    )
    assert found.lines == (
        WrittenLine(
            ingredient="celeriac", quantity="800", unit="g", note="in place of 600 g leek"
        ),
        WrittenLine(
            ingredient="oil", quantity="102.058", unit="ml", pantry=True,
            note="in place of 4 oz butter",
        ),
        WrittenLine(
            ingredient="celeriac", quantity="106.667", unit="g", note="in place of 100 g leek"
        ),
        WrittenLine(ingredient="dish:stock", quantity="500", unit="g"),
    )  # fmt: skip
    assert found.said == (
        "celeriac for leek: stock, which this dish takes, keeps its own; write a version of it "
        "for that.",
    )


def test_less_of_it_keeps_the_unit_and_what_is_left_out_goes(book: Book) -> None:
    """Half of 4 oz is 2 oz."""
    (less,) = named(book, "less butter (50 % of it)")
    found = swapped_version(book, "leek pie", None, [less], on=TODAY)
    assert found.lines[1] == WrittenLine(ingredient="butter", quantity="2", unit="oz", pantry=True)
    assert found.changed == ((found.version.lines[1], found.lines[1]),)
    assert [name for name, *_ in written(book, "butter left out")] == ["leek", "leek", "dish:stock"]


def test_a_dish_is_put_in_by_weight(book: Book) -> None:
    assert written(book, "porridge of your own for leek")[0] == (
        "dish:porridge", "750", "g", False,
    )  # fmt: skip


def test_the_version_stored_costs_what_the_swap_promised(book: Book) -> None:
    """Butter 113.398 g at 0.01 = 1.13398; oil 102.0583 ml at 0.004 = 0.40823: for 4 portions the
    swap saves 0.18144 each."""
    (oil,) = named(book, "oil for butter")
    before = cost_dish(book, "leek pie", on=TODAY).cost_per_portion
    found = swapped_version(book, "leek pie", None, [oil], on=TODAY)
    lines = [
        {"ingredient": each.ingredient, "quantity": each.quantity, "unit": each.unit,
         "state": each.state, "pantry": "yes" if each.pantry else "no", "note": each.note or ""}
        for each in found.lines
    ]  # fmt: skip
    head = {
        "dish": found.version.dish, "version": "2", "effective_from": TODAY.isoformat(),
        "portions": str(found.version.portions),
    }  # fmt: skip
    assert add_dish(book, head, lines, today=TODAY).problems == ()
    after = cost_dish(book, "leek pie", on=TODAY)
    assert after.version == "2"
    assert before - after.cost_per_portion == pytest.approx(0.18144, abs=1e-5)
