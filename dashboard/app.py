"""The dashboard: its pages over one price book. Run by `portiondrift serve`."""

from __future__ import annotations

import os

import streamlit as st

from dashboard.loaders import State, book_state
from dashboard.page_text import sentences
from dashboard.rooms import FIRST, rooms


@st.fragment(run_every="3s")
def follow(state: State) -> None:
    """Show the page anew when the book has changed, or to try again what was refused.

    Only the file's date and size are looked at, so that nobody who writes to the book has to wait.
    """
    if st.session_state.pop("just_drawn", False):
        return  # this is the page's own run, not one of the looks that follow it
    if book_state(state[0]) != state or st.session_state.get("refused"):
        st.rerun()


def main(first: str = FIRST) -> None:
    """Draw the page that was asked for."""
    st.set_page_config(page_title="portiondrift", layout="wide")
    page = st.navigation(rooms(first), position="top")
    state = book_state(os.environ.get("PORTIONDRIFT_BOOK", ""))
    st.session_state["just_drawn"], st.session_state["refused"] = True, False
    with sentences():
        page.run()
    follow(state)


if __name__ == "__main__":
    main()
