"""The page of swaps, without a browser."""

from __future__ import annotations

import pytest
from streamlit.testing.v1 import AppTest

from pricing.book.connect import Book
from pricing.swaps.of_catalogue import catalogue_swaps
from pricing.swaps.of_dish import find_swaps
from tests.dashboard.swaps_kitchen import add_swaps
from tests.dashboard.views.reading import cells, figures, page, words
from tests.kitchen import TODAY, load


@pytest.fixture
def swaps(kitchen: Book) -> Book:
    add_swaps(kitchen)
    return kitchen


def target(app: AppTest, amount: float) -> AppTest:
    return app.number_input("target").set_value(amount).run()


def test_each_swap_with_what_it_saves_since_when_and_its_allergens(swaps: Book) -> None:
    app = page("dishes", dish="barley bowl", down="yes")
    assert not app.exception
    assert figures(app)["Cost per portion"] == "$0.50"
    first, second = cells(app, "Swaps in barley bowl")
    assert first["Swap"] == "celeriac for leek (roast it first)"
    assert first["Amounts per portion"] == "100 g leek → 100 g celeriac"
    assert (first["Per portion"], first["Then costs"]) == ("−$0.20", "$0.30")
    # Food moves both alike between 10 June and 10 November, 153 days; from the 46th day on celeriac
    # bends from 2.50 to 1.00 and leek from 2.00 to 3.00. 2.50 × 0.4^x = 2.00 × 1.5^x at
    # x = ln 1.25 ÷ ln 3.75 = 0.169 of 108 days: 45 + 18.2, so the 64th day
    assert first["Since"] == "cheaper since 13 August 2026"
    assert first["Allergens, by the records"] == "adds celery"
    assert (second["Per portion"], second["Then costs"]) == ("−$0.05", "$0.45")
    assert "adds oats" in second["Allergens, by the records"]
    assert "removes barley" in second["Allergens, by the records"]
    assert "check the labels" in words(app)


def test_a_target_a_lock_and_what_stands_in_the_way(swaps: Book) -> None:
    app = target(page("dishes", dish="barley bowl", down="yes"), 0.30)
    assert "✓ within $0.30 per portion" in words(app)
    assert "1 change reaches $0.30: celeriac for leek. A portion then costs $0.30." in words(app)
    assert cells(app, "Swaps in barley bowl")[0]["Swap"].startswith("✓ chosen: celeriac for leek")
    app.multiselect("keep").select("leek").run()
    assert "✗ not within $0.30 per portion" in words(app)
    assert "The lowest is $0.45, $0.15 over it, with oats for pearl barley." in words(app)
    assert "leek $0.30 (it stays, as you asked)" in words(app)


def test_a_dish_without_swaps_says_how_to_enter_one(kitchen: Book) -> None:
    app = page("dishes", dish="barley bowl", down="yes")
    assert not app.exception
    assert "The book has no swap that works in this dish" in words(app)


def test_the_target_of_the_dish_is_there_from_the_start(swaps: Book) -> None:
    told = """
        dish,version,effective_from,portions,ingredient,quantity,unit,target,made_per_month
        barley bowl,2,2026-10-01,4,pearl barley,400,g,0.45,10
        barley bowl,2,2026-10-01,4,leek,400,g,0.45,10
    """
    assert load(swaps, "dishes", told, replace=True).problems == ()
    app = page("dishes", dish="barley bowl", down="yes")
    assert app.number_input("target").value == 0.45
    assert "✓ within $0.45 per portion" in words(app)
    # over all dishes: the bowl is 0.05 over its target; 10 batches of 4 portions a month at 0.20
    over = catalogue_swaps(swaps, on=TODAY)
    (dish,) = over.over_target
    assert (dish.dish, dish.over) == ("barley bowl", pytest.approx(0.05))
    assert over.swaps[0].saving_per_month == pytest.approx(8.0)
    # once each: bowl 4 × 0.20 and supper, two portions of two bowls' 100 g... 2 × 0.20
    assert over.swaps[0].saving == pytest.approx(0.80 + 0.40)
    (row,) = cells(page("dishes", part="swaps"), "Dishes over their target")
    assert row["Over"] == "+$0.05"


def test_a_swap_is_entered_by_hand_and_a_wrong_one_is_said(swaps: Book) -> None:
    app = page("dishes", part="swaps")
    app.selectbox("swap ingredient").select("leek")
    app.selectbox("swap substitute").select("butter").run()
    app.text_input("swap ratio").set_value("lots").run()
    assert "found 'lots'; expected a number" in words(app)
    app.text_input("swap ratio").set_value("0.5").run()
    (store,) = [button for button in app.button if button.label == "Store this swap"]
    store.click().run()
    assert "The swap of butter for leek is stored: 1 row added" in words(app)
    found = find_swaps(swaps, "barley bowl", on=TODAY)
    assert "butter" in {each.substitute for each in found.swaps}
    app.text_input("swap ratio").set_value("0.6").run()
    assert "found 0.6; expected 0.5, as the book has it for" in words(app)
    assert "Correct it, or tick the box above to replace the swap." in words(app)
    app.checkbox("swap again").check().run()
    assert any(button.label == "Store this swap" for button in app.button)


def test_swaps_are_a_section_of_a_dish_that_a_link_at_its_top_leads_to(kitchen: Book) -> None:
    app = page("dishes", dish="barley bowl", down="yes")
    assert "[Bring it down](#bring-it-down)" in words(app)
    assert "bring-it-down" in [each.proto.anchor for each in app.subheader]


@pytest.mark.parametrize(
    "asked", [{"swap": "no such swap"}, {"keep": "butter"}, {"target": "0"}, {"keep": "no such"}]
)
def test_an_address_that_asks_for_what_is_not_there_still_opens(
    swaps: Book, asked: dict[str, str]
) -> None:
    app = page("dishes", dish="barley bowl", **asked)
    assert not app.exception
    assert figures(app)["Cost per portion"] == "$0.50"
