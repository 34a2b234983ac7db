"""The reprint round and the house's rules on the pages."""

from __future__ import annotations

from pathlib import Path

import pytest
import streamlit as st

from pricing.book.connect import Book
from pricing.contents.settings import book_settings
from tests.dashboard.views.reading import cells, fill, page, words
from tests.kitchen import TODAY, make_book
from tests.pricing.reprint.kitchen import FILES


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Book:
    made = make_book(tmp_path, FILES, series=())
    monkeypatch.setenv("PORTIONDRIFT_BOOK", str(made.path))
    monkeypatch.setenv("PORTIONDRIFT_TODAY", TODAY.isoformat())
    st.cache_data.clear()
    return made


def test_the_round_has_its_three_parts(book: Book) -> None:
    app = page("print", part="round")
    assert not app.exception
    said = words(app)
    assert "3 figures at prices of 24 November 2026; 1 cannot be priced." in said
    assert "salt crust (Harbour Sheet no. 2): printed at $2.00" in said
    assert "local law" in said
    checked = cells(app, "Prices worth checking")
    assert [each["Worth"] for each in checked] == ["100.0 %", "0.8 %", "0.1 %"]
    (short,) = (each for each in cells(app, "Figures to print") if "shortbread" in each["Dish"])
    assert (short["Printed"], short["Costs now"], short["To print"]) == ("$0.40", "$0.48", "$0.48")
    assert "prices added $0.22 (butter and flour)" in short["Why, and the sentence"]


def test_a_rule_set_on_the_page_is_followed(book: Book) -> None:
    app = page("book", part="settings")
    app.selectbox(key="setting rounding").set_value("5").run()
    assert not app.exception
    assert book_settings(book).rounding == 5
    app = page("print", part="round")
    assert "Printed figures are rounded to the nearest $0.05: the house's rules." in words(app)
    (short,) = (each for each in cells(app, "Figures to print") if "shortbread" in each["Dish"])
    assert short["To print"] == "$0.50"
    app = fill(page("book", part="settings"), **{"setting sentence": "{dish}: {price}"})
    assert "Found the field '{price}'" in words(app)
    assert "{cost}" in book_settings(book).sentence


def test_old_prices_of_today_lead_there(book: Book) -> None:
    app = page("today")
    assert not app.exception
    assert any(each.value == "**1** price that matters is old" for each in app.markdown)
