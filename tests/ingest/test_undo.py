"""Undo retracts what a load added, unless rows in force need it; what was replaced counts again."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ingest.load import undo
from pricing.book.connect import Book
from pricing.errors import InputRefused
from tests.kitchen import load
from tests.loading import ask

PRICE = "ingredient,date,price,currency,pack\n"
DISH = "dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit\n"


def test_undo_counts_the_data_rows_it_retracts(book: Book) -> None:
    assert undo(book, 4) == 4  # of the dishes
    assert ask(book, "SELECT count(*) FROM dish_version_now") == [(0,)]
    assert undo(book, 3) == 1
    assert undo(book, 2) == 5
    assert ask(book, "SELECT count(*) FROM ingredient_now") == [(0,)]
    assert ask(book, "SELECT count(*) FROM ingredient_fact") == [(5,)]  # nothing is deleted


def test_undone_ingredients_can_be_loaded_again(book: Book) -> None:
    for batch in (4, 3, 2):
        undo(book, batch)
    report = load(book, "ingredients", "ingredient,base\nleek,ml")
    assert (report.added, report.problems) == (1, ())
    assert ask(book, "SELECT name, base FROM ingredient_now") == [("leek", "ml")]


@pytest.mark.parametrize("batch", [0, -1, 99])
def test_an_unknown_batch(book: Book, batch: int) -> None:
    with pytest.raises(InputRefused, match=f"no load {batch} in the book"):
        undo(book, batch)


def test_a_batch_undone_already(book: Book) -> None:
    undo(book, 4)
    with pytest.raises(InputRefused, match="load 4, which was undone already"):
        undo(book, 4)


def test_the_bundled_series(book: Book) -> None:
    with pytest.raises(InputRefused, match="load 1, the official series"):
        undo(book, 1)


def test_ingredients_that_are_used_name_the_loads_to_undo_first(book: Book) -> None:
    load(book, "prices", f"{PRICE}leek,2024-05-02,1.89,USD,500 g")
    load(book, "swaps", "ingredient,substitute,ratio\negg,syrup,1")
    before = ask(book, "SELECT count(*) FROM retraction")
    with pytest.raises(InputRefused) as refused:
        undo(book, 2)
    assert str(refused.value) == (
        "Cannot undo load 2: 'egg', 'leek', 'syrup', 'whole milk' are still used by the rows of "
        "loads 6 (swaps), 5 (prices), 4 (dishes), 3 (measures); expected nothing in force to "
        "need it. Undo those first."
    )
    assert ask(book, "SELECT count(*) FROM retraction") == before


def test_a_measure_that_a_recipe_uses(book: Book) -> None:
    with pytest.raises(
        InputRefused, match=r"'leek' is still used by the rows of load 4 \(dishes\)"
    ):
        undo(book, 3)


def test_a_dish_that_another_takes_or_a_printed_figure_names(book: Book) -> None:
    load(book, "dishes", f"{DISH}soup,1,2020-01-01,4,,dish:stock,1,batch")
    load(
        book,
        "printed",
        "dish,version,published_on,cost_per_portion,currency\nsoup,1,2021-01-01,0.80,USD",
    )
    with pytest.raises(InputRefused, match=r"'stock' is still used by the rows of load 5 \(dish"):
        undo(book, 4)
    with pytest.raises(InputRefused, match=r"'soup' is still used by the rows of load 6 \(printed"):
        undo(book, 5)
    assert [undo(book, batch) for batch in (6, 5, 4)] == [1, 1, 4]


def test_replaced_facts_are_in_force_again(book: Book) -> None:
    load(book, "prices", f"{PRICE}whole milk,2024-05-02,4,USD,1 kg")
    new = load(
        book, "ingredients", "ingredient,base,density_g_per_ml\nwhole milk,ml,1.25", replace=True
    )
    undo(book, new.load or 0)
    assert ask(book, "SELECT density_g_per_ml FROM ingredient_now WHERE name = 'whole milk'") == [
        (Decimal("1.03"),)
    ]
    [(unit_price,)] = ask(book, "SELECT unit_price FROM source_day")
    assert unit_price == pytest.approx(4 / (1000 / 1.03), rel=1e-12)  # and its prices with them


def test_facts_that_a_price_needs_are_not_taken_away(book: Book) -> None:
    """Without its new density, 1 pint of barley could not be turned into g."""
    new = load(
        book,
        "ingredients",
        "ingredient,base,density_g_per_ml\npearl barley,g,0.8",
        replace=True,
    )
    load(book, "prices", f"{PRICE}pearl barley,2024-05-02,2,USD,1 pint")
    with pytest.raises(InputRefused, match=r"'pearl barley' is still used .* load 6 \(prices\)"):
        undo(book, new.load or 0)


def test_a_base_that_a_swap_s_ratio_is_by(book: Book) -> None:
    new = load(book, "ingredients", "ingredient,base\nsyrup,g", replace=True)
    load(book, "swaps", "ingredient,substitute,ratio\negg,syrup,20")
    with pytest.raises(InputRefused, match=r"'syrup' is still used .* load 6 \(swaps\)"):
        undo(book, new.load or 0)


def test_an_alias_that_would_mean_two_ingredients_again(book: Book) -> None:
    new = load(book, "ingredients", "ingredient,base,aliases\nleek,g,", replace=True)
    load(book, "ingredients", "ingredient,base\nleeks,each")
    with pytest.raises(InputRefused, match="'leeks' would then be a name or alias of both"):
        undo(book, new.load or 0)


def test_a_circle_of_dishes_that_would_come_back(book: Book) -> None:
    load(book, "dishes", f"{DISH}pie,1,2020-01-01,4,,dish:stock,1,batch")
    new = load(book, "dishes", f"{DISH}pie,1,2020-01-01,4,,leek,1,each", replace=True)
    load(book, "dishes", f"{DISH}stock,2,2020-01-01,4,,dish:pie,1,batch")
    with pytest.raises(InputRefused, match="then a dish would take itself"):
        undo(book, new.load or 0)


def test_a_circle_of_series_that_would_come_back(book: Book) -> None:
    header = "series,month,value,parent\n"
    load(book, "index", f"{header}x,2020-01,1,y\nz,2020-01,1,")
    new = load(book, "index", f"{header}x,2020-02,1,z", replace=True)
    load(book, "index", f"{header}y,2020-01,1,x")
    with pytest.raises(InputRefused, match="then a series would be its own parent"):
        undo(book, new.load or 0)


def test_undoing_a_batch_whose_facts_were_replaced_later(book: Book) -> None:
    """The later facts stay in force, so nothing breaks."""
    load(book, "ingredients", "ingredient,base,category\nsyrup,ml,larder", replace=True)
    for batch in (4, 3):
        undo(book, batch)
    assert undo(book, 2) == 5
    assert ask(book, "SELECT name, category FROM ingredient_now") == [("syrup", "larder")]
