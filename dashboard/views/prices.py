"""The page of prices: how a price went, one price by hand, files of every kind."""

from __future__ import annotations

import streamlit as st

from dashboard.views.book import the_book
from dashboard.views.enter_price import enter_price
from dashboard.views.load_file import load_file
from dashboard.views.loaders import ingredients_of
from dashboard.views.outcome import show_outcome
from dashboard.views.price_history import show_history
from dashboard.views.sentences import sentences
from dashboard.views.start import next_step, show_start

TABS = ("Price of an ingredient", "Enter a price", "Load a file")


def show() -> None:
    """Draw the page."""
    book = the_book()
    st.header("Prices", anchor=False)
    show_outcome()
    names = [each.ingredient for each in ingredients_of(book.state)]
    wanted = next_step(book)
    if wanted is not None:
        show_start(book)
    if not names:
        with sentences():
            load_file(book, kind="prices", started=False)
        return
    # while the book is being filled, the files stand open
    history, by_hand, file = st.tabs(TABS, default=TABS[0] if wanted is None else TABS[-1])
    with history, sentences():
        ingredient = st.selectbox("Ingredient", names, key="ingredient", bind="query-params")
        show_history(book, ingredient)
    with by_hand, sentences():
        enter_price(book, names, ingredient)
    with file, sentences():
        load_file(book, kind=wanted or "prices")
