"""The rooms of the dashboard: their names, their addresses, and the way from one to another."""

from __future__ import annotations

from collections.abc import Mapping

import streamlit as st
from streamlit.navigation.page import StreamlitPage

TITLES = {
    "today": "Today",
    "dishes": "Dishes",
    "ingredients": "Ingredients",
    "print": "Print",
    "book": "Book",
}
FIRST = "today"
PART = "part"  # in an address: which part of a room is open
ARROW = ":material/arrow_forward:"  # marks a link to another page

# Addresses of a former order of pages, and where each leads: a printed or saved link still opens.
FORMER: Mapping[str, tuple[str, Mapping[str, str]]] = {
    "today": ("today", {}),  # the first room stands at the bare address
    "catalogue": ("dishes", {}),
    "dish": ("dishes", {}),
    "then_and_now": ("dishes", {}),
    "drivers": ("dishes", {PART: "drivers"}),
    "swaps": ("dishes", {}),
    "inflation": ("dishes", {PART: "inflation"}),
    "printed": ("print", {}),
    "prices": ("ingredients", {}),
    "season": ("ingredients", {}),
    "tray": ("book", {PART: "tray"}),
    "official_series": ("book", {PART: "series"}),
}


def page(name: str) -> StreamlitPage:
    """Return the way to the room called `name`, as st.page_link and st.switch_page take it.

    Only its address counts there: what it shows, the dashboard itself knows (app.py), so that
    pages that lead to each other need not import each other.
    """
    return st.Page(
        _shown_by_the_app, title=TITLES[name], url_path=address_of(name), default=name == FIRST
    )


def address_of(name: str) -> str:
    """Return the address of a room; the first stands at the bare one, whatever it is called."""
    return "first" if name == FIRST else name


def _shown_by_the_app() -> None:
    raise NotImplementedError
