"""The test bench on a page, without a browser; costs by pencil in tests/pricing/bench/bakery.py."""

from __future__ import annotations

from pathlib import Path

import pytest
import streamlit as st
from streamlit.testing.v1 import AppTest

from tests.dashboard.views.reading import page, press, words
from tests.kitchen import make_book
from tests.pricing.bench.bakery import FILES


@pytest.fixture(autouse=True)
def bakery(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    book = make_book(tmp_path, FILES, series=())
    monkeypatch.setenv("PORTIONDRIFT_BOOK", str(book.path))
    monkeypatch.setenv("PORTIONDRIFT_TODAY", "2026-11-20")
    st.cache_data.clear()


def bench(**query: str) -> AppTest:
    app = page("dishes", part="bench", **query)
    assert not app.exception
    return app


def shown(app: AppTest) -> dict[str, list[str]]:
    """Return the rows of the table, without their headings."""
    (laid,) = app.table
    rows = laid.value.map(lambda cell: str(cell).replace("\\", "").replace("\u00a0", " "))
    return {row[0]: row[1:] for row in rows.to_numpy().tolist()}


def test_it_asks_for_recipes_and_then_lays_them_side_by_side() -> None:
    app = bench()
    assert "Choose two to four" in words(app)
    assert len(app.table) == 0
    app.multiselect("beside").set_value(["leek pie@1", "leek pie@2"]).run()
    assert not app.exception
    rows = shown(app)
    assert rows["Cost per portion"] == ["$0.70", "$0.85"]
    assert rows["Minutes at hand"] == ["60", "75"]
    assert rows["Energy, kWh"] == ["at least 1.2", "at least 1.5"]
    assert "what the extra $0.15 a portion buys: 15 more minutes at hand" in words(app)
    assert "Tasting note: rich" in words(app)
    assert "butter pastry does not state its energy." in words(app)
    assert words(app).count("Check the labels.") == 2
    assert app.query_params["beside"] == ["leek pie@1", "leek pie@2"]


def test_a_link_brings_an_exchange_and_an_addition_back() -> None:
    app = bench(
        beside="leek pie@2", in_place_of="butter pastry", instead="lard pastry", how_much="80 g",
        **{"with": "salad"},
    )  # fmt: skip
    rows = shown(app)
    assert rows["Cost per portion"] == ["$0.85", "$0.68", "$1.09"]
    assert rows["Against the first"] == ["—", "−$0.17", "+$0.24"]
    assert app.selectbox("in_place_of").options == ["butter pastry"]
    assert "removes milk" in words(app)
    app.selectbox("with").set_value(None).run()
    assert shown(app)["Cost per portion"] == ["$0.85", "$0.68"]
    assert "with" not in app.query_params


def test_one_dish_alone_asks_for_another() -> None:
    app = bench(beside="salad@1")
    assert app.selectbox("in_place_of").disabled  # no dish inside it
    assert "Choose two to four" in words(app)


def test_what_cannot_be_is_one_sentence_on_the_page() -> None:
    app = bench(beside="leek pie@2", how_much="some", **{"with": "salad"})
    assert "Found 'some' of 'salad'; expected portions or g" in words(app)
    assert len(app.table) == 0


def test_what_the_book_does_not_have_is_left_out_of_a_link() -> None:
    app = bench(beside="pudding@1")
    assert app.multiselect("beside").value == []


def test_an_exchange_goes_with_the_recipe_that_it_was_in() -> None:
    app = bench(beside="leek pie@2", in_place_of="butter pastry", instead="lard pastry")
    assert shown(app)["Cost per portion"] == ["$0.85", "$0.68"]
    app.multiselect("beside").set_value(["salad@1", "leek pie@1"]).run()
    assert not app.exception
    assert shown(app)["Cost per portion"] == ["$0.30", "$0.70"]
    stale = bench(beside="salad@1", in_place_of="butter pastry", instead="no such dish")
    assert "Choose two to four" in words(stale)


def test_a_version_written_on_the_page_keeps_what_was_stated_and_takes_new_marks() -> None:
    app = page("dishes", dish="leek pie", edit="2")
    fields = {each.label: each for each in app.text_input}
    copied = ("Minutes waiting", "Energy, kWh", "Pots to wash up")
    assert [fields[name].value for name in copied] == ["45", "1.5", "5"]
    assert fields["Tasters' marks"].value == ""  # nobody has tasted the new one
    fields["Tasters' marks"].set_value("9;good").run()
    assert "Found 'good'; expected marks, each a number" in words(app)
    fields["Tasters' marks"].set_value("9;8").run()
    fields["Energy, kWh"].set_value("1.75").run()
    fields["Quantity of line 2"].set_value("1.2").run()
    press(app, "Store this version")
    assert not app.exception
    rows = shown(bench(beside="leek pie@3", **{"with": "salad"}))
    # 2.60 of pastry and 1.2 kg of leek at 3.00: 6.20 for 8 portions, $0.775; a salad $0.30
    assert rows["Cost per portion"] == ["$0.78", "$1.08"]
    assert rows["Energy, kWh"][0] == "at least 1.75"
    assert rows["Tasters' marks"] == ["9; 8 (mean 8.5)", "not stated"]
