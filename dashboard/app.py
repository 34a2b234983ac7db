"""The dashboard: its pages over one price book. Run by `portiondrift serve`."""

from __future__ import annotations

import os

import streamlit as st
from streamlit.navigation.page import StreamlitPage

from dashboard.views import (
    catalogue,
    dish,
    drivers,
    inflation,
    official_series,
    prices,
    printed,
    season,
    swaps,
    then_and_now,
    tray,
)
from dashboard.views.book import State, book_state
from dashboard.views.pages import FIRST, TITLES
from dashboard.views.sentences import sentences
from dashboard.views.whose_prices import choose_whose_prices

SHOWN_BY = {
    "catalogue": catalogue.show,
    "dish": dish.show,
    "then_and_now": then_and_now.show,
    "drivers": drivers.show,
    "swaps": swaps.show,
    "printed": printed.show,
    "inflation": inflation.show,
    "season": season.show,
    "prices": prices.show,
    "tray": tray.show,
    "official_series": official_series.show,
}


@st.fragment(run_every="3s")
def follow(state: State) -> None:
    """Show the page anew when the book has changed, or to try again what was refused.

    Only the file's date and size are looked at, so that nobody who writes to the book has to wait.
    """
    if st.session_state.pop("just_drawn", False):
        return  # this is the page's own run, not one of the looks that follow it
    if book_state(state[0]) != state or st.session_state.get("refused"):
        st.rerun()


def pages(first: str = FIRST) -> list[StreamlitPage]:
    """Return every page, as st.navigation takes them; `first` also at the address without a name.

    A default page has no address but the bare one, so the first page stands there twice: in the
    list of pages, and hidden from it under its own name.
    """
    shown = [
        st.Page(SHOWN_BY[name], title=title, url_path="first", default=True)
        if name == first
        else st.Page(SHOWN_BY[name], title=title, url_path=name)
        for name, title in TITLES.items()
    ]
    own = st.Page(SHOWN_BY[first], title=TITLES[first], url_path=first, visibility="hidden")
    return [*shown, own]


def main(first: str = FIRST) -> None:
    """Draw the page that was asked for."""
    st.set_page_config(page_title="portiondrift", layout="wide")
    page = st.navigation(pages(first), position="top")
    state = book_state(os.environ.get("PORTIONDRIFT_BOOK", ""))
    st.session_state["just_drawn"], st.session_state["refused"] = True, False
    with sentences():
        choose_whose_prices(page.title)
        page.run()
    follow(state)


if __name__ == "__main__":
    main()
