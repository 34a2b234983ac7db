"""The page of prices: how a price went, one price by hand, files of every kind."""

from __future__ import annotations

import streamlit as st

from dashboard.loaders import ingredients_of, the_book
from dashboard.page_text import sentences
from dashboard.views.enter_price import enter_price
from dashboard.views.load_file import load_file
from dashboard.views.outcome import show_outcome
from dashboard.views.price_history import show_history
from dashboard.views.start import show_start


def show() -> None:
    """Draw the page."""
    book = the_book()
    st.header("Prices", anchor=False)
    show_outcome()
    known = ingredients_of(book.state)
    if not known:
        show_start(book)
        return
    names = [each.ingredient for each in known]
    history, by_hand, file = st.tabs(["Price of an ingredient", "Enter a price", "Load a file"])
    with history, sentences():
        ingredient = st.selectbox("Ingredient", names, key="ingredient", bind="query-params")
        show_history(book, ingredient)
    with by_hand, sentences():
        enter_price(book, names, ingredient)
    with file, sentences():
        load_file(book)
