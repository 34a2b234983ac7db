"""Whose prices count on the pages: chosen once, for all that cost something."""

from __future__ import annotations

from pathlib import Path

import pytest
import streamlit as st

from dashboard.words.whose_prices import whose_words
from pricing.book.connect import Book
from tests.dashboard.views.reading import cells, figures, page, words
from tests.kitchen import make_book

FILES = {
    "ingredients": "ingredient,base\nrice,g",
    "prices": """
        ingredient,date,price,currency,pack,supplier,kind
        rice,2026-11-20,2.00,USD,1 kg,Quay,shelf
        rice,2026-11-20,3.00,USD,1 kg,Mill,shelf
        rice,2026-11-20,1.20,USD,1 kg,Holm,invoice
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        bowl,1,2026-11-20,1,rice,200,g
    """,
}


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Book:
    book = make_book(tmp_path, FILES, series=())
    monkeypatch.setenv("PORTIONDRIFT_BOOK", str(book.path))
    st.cache_data.clear()
    return book


def test_trade_prices_and_a_shop_left_out(shop: Book) -> None:
    app = page("dishes", dish="bowl")
    # 200 g at the mean of 2.00 and 3.00 a kilogram
    assert figures(app)["Cost per portion"] == "$0.50"
    assert "without" not in words(app)
    app.multiselect(key="without").select("Mill").run()
    assert figures(app)["Cost per portion"] == "$0.40"
    assert "Without prices of Mill" in words(app)
    app.radio(key="market").set_value("trade").run()
    assert figures(app)["Cost per portion"] == "$0.24"  # 200 g at 1.20 a kilogram
    assert (
        "At prices of the trade (invoices, quotes) where there are some, without those of Mill"
    ) in words(app)


def test_the_choice_is_the_same_on_every_page_that_costs_something(shop: Book) -> None:
    app = page("dishes", dish="bowl")
    app.radio(key="market").set_value("trade").run()
    assert not app.exception
    assert figures(app)["Now"] == "$0.24"  # of then and now, in the same address
    chosen = {"market": app.query_params["market"]}
    assert chosen == {"market": "trade"}
    assert cells(page("dishes", **chosen))[0]["Now"] == "$0.24"


def test_a_page_that_costs_nothing_does_not_ask(shop: Book) -> None:
    assert not page("official_series").multiselect


def test_both_markets_alike_leave_none_out() -> None:
    assert whose_words("any", ()) == "At prices of shops and the trade alike"
    assert whose_words(None, ()) == ""
