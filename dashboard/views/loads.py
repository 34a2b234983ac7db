"""What was loaded, the newest first, each with the way to take it back."""

from __future__ import annotations

import streamlit as st

from dashboard.views.book import TheBook
from dashboard.views.loaders import info_of
from dashboard.views.outcome import take_back
from dashboard.words.figures import counted
from dashboard.words.markdown import plain
from pricing.days import day_words

A_PAGE = 20


def show_loads(book: TheBook) -> None:
    """Draw the loads of a user, a page at a time."""
    loads = [each for each in info_of(book.state)["loads"] if each["file"] != "bundled"][::-1]
    if not loads:
        st.info("Nothing was loaded yet.", icon=":material/info:")
        return
    pages = -(-len(loads) // A_PAGE)
    number = st.pagination(pages, key="page of loads") if pages > 1 else 1
    for load in loads[(number - 1) * A_PAGE : number * A_PAGE]:
        what, button = st.columns([6, 1], vertical_alignment="center")
        undone = " · taken back" if load["undone"] else ""
        what.markdown(
            plain(
                f"{load['load']}. {load['kind']}: {load['file']} · "
                f"{day_words(load['loaded_at'].date())} · "
                f"{counted(load['added'], 'row')} added{undone}"
            )
        )
        if load["added"] and not load["undone"]:
            button.button(
                "Take back", key=f"take back {load['load']}", on_click=take_back,
                args=(load["load"],),
            )  # fmt: skip
