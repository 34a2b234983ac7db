"""Shopping for dishes on a page, without a browser; pencil in tests/pricing/till/test_shop.py."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
import streamlit as st
from streamlit.testing.v1 import AppTest

from pricing.book.connect import Book
from tests.dashboard.views.reading import cells, figures, words
from tests.kitchen import load, make_book
from tests.pricing.till.test_shop import FILES

ON = date(2026, 11, 24)


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Book:
    book = make_book(tmp_path, FILES, series=())
    monkeypatch.setenv("PORTIONDRIFT_BOOK", str(book.path))
    st.cache_data.clear()
    return book


def part(dish: str, on: date = ON, version: str | None = None) -> AppTest:
    """Run the part alone, as a page runs it."""

    def script(dish: str, day: str, version: str | None) -> None:
        from datetime import date

        from dashboard.views.book import the_book
        from dashboard.views.sentences import sentences
        from dashboard.views.till import show_till

        with sentences():
            show_till(the_book(), dish, date.fromisoformat(day), version)

    kwargs = {"dish": dish, "day": on.isoformat(), "version": version}
    return AppTest.from_function(script, kwargs=kwargs, default_timeout=60).run()


def test_it_starts_with_one_batch_of_the_dish(shop: Book) -> None:
    app = part("bake")
    assert not app.exception
    assert figures(app) == {"At the till": "$3.99", "On the plate": "$1.64", "Left over": "$1.08"}
    flour, milk, salt = cells(app)
    assert flour["Ingredient"] == "[flour](ingredients?ingredient=flour)"
    assert (flour["Buy"], flour["Left over"]) == ("2 × 250 g at $1.20", "none")
    # left over 0.495 and 0.588, rounded so that they add up to the 1.08 above
    assert (milk["Buy"], milk["Left over"], milk["Worth"], salt["Worth"]) == (
        "1 × 500 ml at $0.99", "250 ml", "$0.49", "$0.59",
    )  # fmt: skip
    assert salt["Ingredient"].endswith(" (pantry)")
    assert "Left over: $1.08 of it (27 %)" in words(app)
    assert "Prices of 24 November 2026. Shelf prices differ by shop and day" in words(app)


def test_more_dishes_more_batches(shop: Book) -> None:
    app = part("bake")
    app.multiselect("shop from bake").select("bars").run()
    app.number_input("batches of bake").set_value(2.0).run()
    assert not app.exception
    first, further = cells(app)[:2]
    # 1,300 g of flour: two of 250 g and one of 1 kg for 5.40, 200 g over
    assert (first["Needed"], first["At the till"], first["Left over"]) == (
        "1.3 kg", "$5.40", "200 g",
    )  # fmt: skip
    assert (further["Ingredient"], further["Buy"]) == ("", "and 1 × 1 kg at $3.00")
    assert "bake, version new: 2 batches, 8 portions" in words(app)
    assert "bars, version 1: 1 batch, 2 portions" in words(app)


def test_pantry_and_shop_are_a_choice(shop: Book) -> None:
    app = part("bake")
    app.toggle("shop pantry").set_value(False).run()
    assert figures(app)["At the till"] == "$3.39"  # 2.40 + 0.99
    assert "Not bought, since the pantry has it: salt 10 g." in words(app)
    app.toggle("shop pantry").set_value(True).run()
    app.selectbox("shop").select("Mill").run()
    assert figures(app)["At the till"] == "at least $1.19"
    assert "no pack was found of: salt." in words(app)
    assert cells(app)[2]["Buy"] == "no pack"


def test_an_older_version_and_an_older_day(shop: Book) -> None:
    app = part("bake", date(2026, 11, 5), "old")
    assert not app.exception
    # 750 g of flour, in Mill's packs of 250 g at 0.10
    assert cells(app)[0]["Buy"] == "3 × 250 g at $0.10"
    assert "version old, not the one in force on that day" in words(app)


def test_no_dish_and_no_pack_are_said(shop: Book) -> None:
    app = part("scented")
    assert figures(app)["At the till"] == "at least $1.20"
    assert "No price of vanilla is in the book" in cells(app)[0]["Price evidence"]
    app.multiselect("shop from scented").unselect("scented").run()
    assert "Choose a dish to shop for." in words(app)
    assert not app.metric


def test_a_new_price_is_seen_at_once(shop: Book) -> None:
    assert figures(part("bake"))["At the till"] == "$3.99"
    load(shop, "prices", "ingredient,date,price,currency,pack\nflour,2026-11-24,2.00,USD,500 g")
    assert figures(part("bake"))["At the till"] == "$3.59"  # 2.00 + 0.99 + 0.60


def test_a_day_to_come_is_a_sentence(shop: Book) -> None:
    app = part("bake", date(2026, 12, 1))
    assert not app.exception
    assert "after today" in words(app)
