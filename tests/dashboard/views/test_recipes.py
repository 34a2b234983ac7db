"""Recipes written on the page: what is wrong is said beside its line, and what it costs."""

from __future__ import annotations

from pathlib import Path

import pytest
import streamlit as st
from streamlit.testing.v1 import AppTest

from pricing.book.connect import Book
from pricing.dishes.cost import cost_dish
from tests.dashboard.small_kitchen import small_kitchen
from tests.dashboard.swaps_kitchen import add_swaps
from tests.dashboard.views.reading import figures, page, press, table, words
from tests.kitchen import TODAY, load


@pytest.fixture
def kitchen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Book:
    book = small_kitchen(tmp_path)
    monkeypatch.setenv("PORTIONDRIFT_BOOK", str(book.path))
    monkeypatch.setenv("PORTIONDRIFT_TODAY", TODAY.isoformat())
    st.cache_data.clear()
    return book


def field(app: AppTest, label: str, text: str) -> AppTest:
    (found,) = (each for each in app.text_input if each.label == label)
    return found.set_value(text).run()


def take(app: AppTest, line: int, name: str) -> AppTest:
    (found,) = (each for each in app.selectbox if each.label == f"Ingredient of line {line}")
    if name not in found.options:  # typed, as the field lets a reader do
        found.options.append(name)
    return found.set_value(name).run()


def test_a_new_version_is_copied_costed_and_stored(kitchen: Book) -> None:
    """Version 2 is 400 g barley and 400 g leek: $0.50. With 600 g of leek, 0.80 + 1.80 = $0.65."""
    app = page("dishes", dish="barley bowl", edit="2")
    assert not app.exception
    assert "Copied from version 2." in words(app)
    assert figures(app) == {"Cost per portion today": "$0.50"}
    field(app, "Quantity of line 2", "600")
    assert figures(app) == {"Cost per portion today": "$0.65"}
    assert "+$0.15 against version 2" in words(app)
    assert "$0.45" in words(app)  # the leek of a portion: 150 g at 0.003
    field(app, "Target per portion", "0.60")
    assert "✗ over the target of $0.60 by $0.05" in words(app)
    press(app, "Store this version")
    cost = cost_dish(kitchen, "barley bowl", on=TODAY)
    assert (cost.version, cost.cost_per_portion) == ("3", pytest.approx(0.65))


def test_a_chosen_day_is_costed_beside_today(kitchen: Book) -> None:
    """In June barley is 1.00 and leek 2.00 a kg: 0.40 + 0.80 = 1.20, $0.30 a portion."""
    app = page("dishes", dish="barley bowl", edit="2", on="2026-06-15")
    shown = figures(app)
    assert shown.pop("Cost per portion today") == "$0.50"
    assert list(shown.values()) == ["$0.30"]


def test_an_unknown_ingredient_is_said_beside_its_line_and_may_wait(kitchen: Book) -> None:
    app = take(page("dishes", dish="barley bowl", edit="2"), 2, "lek")
    assert "Found 'lek'; expected an ingredient of the book" in words(app)
    assert "Nearest: leek" in words(app)
    assert figures(app) == {"Cost per portion today": "at least $0.20"}  # the barley
    (store,) = (each for each in app.button if each.label == "Store this version")
    assert store.disabled
    press(app, "Let lek wait in the Tray")
    assert "lek: choose what it is, or store it as it is; it waits in the Tray." in words(app)
    press(app, "Store this version")
    assert cost_dish(kitchen, "barley bowl", on=TODAY).lines[1].ingredient == "waiting: lek"


def test_a_unit_that_needs_a_density_is_said(kitchen: Book) -> None:
    app = field(page("dishes", dish="barley bowl", edit="2"), "Unit of line 2", "ml")
    assert "400 ml of leek, which is priced by g" in words(app)
    assert "density" in words(app)


def test_a_circle_of_dishes_is_said(kitchen: Book) -> None:
    app = take(page("dishes", dish="barley bowl", edit="2"), 2, "dish:barley supper")
    field(app, "Unit of line 2", "portion")
    assert "a dish that takes itself: barley bowl → barley supper → barley bowl" in words(app)
    assert figures(app) == {"Cost per portion today": "—"}


def test_a_version_that_exists_is_replaced_only_by_a_tick(kitchen: Book) -> None:
    app = page("dishes", dish="barley bowl", edit="2")
    field(app, "Version", "1")
    assert "The book has version 1 of barley bowl with another recipe." in words(app)
    assert "1 printed figure was told of it" in words(app)
    (tick,) = (each for each in app.checkbox if each.label == "Replace version 1")
    tick.set_value(True).run()
    press(app, "Store this version")
    assert cost_dish(kitchen, "barley bowl", on=TODAY, version="1").cost_per_portion == (
        pytest.approx(0.50)
    )


def test_lines_are_added_moved_and_removed(kitchen: Book) -> None:
    app = press(page("dishes", dish="barley bowl", edit="2"), "Add a line")
    take(app, 3, "butter")
    names = [each.value for each in app.selectbox if each.label.startswith("Ingredient of")]
    assert names == ["pearl barley", "leek", "butter"]
    up = [each for each in app.button if each.label == "Up"]
    up[2].click().run()
    remove = [each for each in app.button if each.label == "Remove"]
    remove[0].click().run()
    names = [each.value for each in app.selectbox if each.label.startswith("Ingredient of")]
    assert names == ["butter", "leek"]


def test_what_is_not_stored_is_still_there_after_another_room(kitchen: Book) -> None:
    app = field(page("dishes", dish="barley bowl", edit="2"), "Quantity of line 2", "600")
    del app.query_params["edit"]
    app.run()
    assert "Quantity of line 2" not in [each.label for each in app.text_input]
    app.query_params["edit"] = "2"
    app.run()
    (there,) = (each for each in app.text_input if each.label == "Quantity of line 2")
    assert there.value == "600"
    assert figures(app) == {"Cost per portion today": "$0.65"}


def test_a_pasted_recipe_becomes_a_new_dish(kitchen: Book) -> None:
    """200 g barley at 0.002 and 100 g leek at 0.003: 0.70 for two portions."""
    app = page("dishes", part="new")
    app.text_area[0].set_value("Leek barley\nServes 2\n\n200 g pearl barley\n100 g leek").run()
    press(app, "Read it into the lines below")
    assert not app.exception
    assert figures(app) == {"Cost per portion today": "$0.35"}
    press(app, "Store this version")
    assert cost_dish(kitchen, "Leek barley", on=TODAY).cost_per_portion == pytest.approx(0.35)


def test_a_book_without_dishes_takes_a_first_one(kitchen: Book, tmp_path: Path) -> None:
    app = page("dishes", part="new")
    assert figures(app) == {"Cost per portion today": "—"}
    assert not app.warning  # before, a blank page began with what is wrong with it
    field(app, "Dish", "Leek barley")
    assert "Lines: Found a dish without lines" in words(app)


def test_facts_of_an_ingredient_are_edited_in_place(kitchen: Book) -> None:
    load(kitchen, "ingredients", "ingredient,base,allergens\noats,g,oats")
    app = page("ingredients", ingredient="oats")
    field(app, "Allergens", "oats; gluten")
    field(app, "g of one ml", "0.4")
    press(app, "Store these facts")
    assert "What is known of oats is stored" in words(app)
    (allergens,) = (each for each in app.text_input if each.label == "Allergens")
    assert allergens.value == "gluten; oats"


def test_facts_that_the_book_needs_are_not_taken_away(kitchen: Book) -> None:
    load(kitchen, "ingredients", "ingredient,base,density_g_per_ml\ncream,g,1.01")
    load(kitchen, "dishes", """
        dish,version,effective_from,portions,ingredient,quantity,unit
        cream bowl,1,2026-06-01,4,cream,100,ml
    """)  # fmt: skip
    app = page("ingredients", ingredient="cream")
    field(app, "g of one ml", "")
    assert "expected facts that serve the dishes stored by load" in words(app)
    assert "Store these facts" not in [each.label for each in app.button]


def test_swaps_that_the_target_chose_open_the_editor_with_their_lines(kitchen: Book) -> None:
    """Celeriac for leek, gram for gram, at 1.00 a kg: 0.80 + 0.40 = $0.30 a portion."""
    add_swaps(kitchen)
    app = page("dishes", dish="barley bowl", target="0.30")
    rows = table(app, "Lines that the swaps change").value.to_dict("records")
    assert rows == [{"Line now": "400 g leek", "It becomes": "400 g celeriac"}]
    press(app, "Write them into a new version")
    app.query_params["edit"] = "2"
    app.run()
    assert figures(app) == {"Cost per portion today": "$0.30"}
    assert "−$0.20 against version 2" in words(app)
    press(app, "Store this version")
    assert cost_dish(kitchen, "barley bowl", on=TODAY).cost_per_portion == pytest.approx(0.30)
