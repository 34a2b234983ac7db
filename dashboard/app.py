"""The dashboard: three pages over one price book. Run by `portiondrift serve`."""

from __future__ import annotations

import os

import streamlit as st

from dashboard.loaders import State, book_state
from dashboard.page_text import sentences
from dashboard.rooms import FIRST, TITLES, room


@st.fragment(run_every="3s")
def follow(state: State) -> None:
    """Show the page anew when the book has changed, or to try again what was refused.

    Only the file's date and size are looked at, so that nobody who writes to the book has to wait.
    """
    if book_state(state[0]) != state or st.session_state.get("refused"):
        st.session_state["refused"] = False
        st.rerun()


def main(first: str = FIRST) -> None:
    """Draw the page that was asked for."""
    st.set_page_config(page_title="portiondrift", layout="wide")
    page = st.navigation([room(name, first=first) for name in TITLES], position="top")
    state = book_state(os.environ.get("PORTIONDRIFT_BOOK", ""))
    with sentences():
        page.run()
    follow(state)


if __name__ == "__main__":
    main()
