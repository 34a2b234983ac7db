"""The choice of whose prices count, one for all pages that cost something."""

from __future__ import annotations

import streamlit as st

from dashboard.views.book import MARKET, WITHOUT, the_book
from dashboard.views.loaders import settings_of, suppliers_of
from dashboard.views.pages import TITLES
from dashboard.words.markdown import plain
from dashboard.words.whose_prices import MARKETS, whose_words

COSTED = ("catalogue", "dish", "then_and_now", "drivers", "swaps", "inflation")


def choose_whose_prices(title: str) -> None:
    """Draw the choice above a page that costs something, and say what it is."""
    for key in (MARKET, WITHOUT):  # a page without the choice must not forget it
        if key in st.session_state:
            st.session_state[key] = st.session_state[key]
    if title not in {TITLES[name] for name in COSTED}:
        return
    state = the_book().state
    suppliers = suppliers_of(state)
    if not suppliers:
        return
    own = settings_of(state).market
    with st.container(horizontal=True, horizontal_alignment="right", vertical_alignment="center"):
        if said := whose_words(st.session_state.get(MARKET), st.session_state.get(WITHOUT, ())):
            st.caption(plain(said))
        with st.popover("Whose prices"):
            st.radio(
                "Prices of",
                [None, *MARKETS],
                format_func=lambda each: MARKETS[each] if each else f"as the book has it: {own}",
                key=MARKET,
            )
            st.multiselect("Leave out", suppliers, key=WITHOUT, placeholder="No supplier")
