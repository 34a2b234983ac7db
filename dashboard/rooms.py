"""The pages of the dashboard: their names, their addresses, and the way from one to another."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module

import streamlit as st

TITLES = {
    "catalogue": "Catalogue",
    "dish": "Dish",
    "then_and_now": "Then and now",
    "drivers": "Drivers",
    "swaps": "Swaps",
    "claims": "Claims",
    "inflation": "Kitchen inflation",
    "season": "Season",
    "prices": "Prices",
    "official_series": "Official series",
}
WHY = (
    "then_and_now",
    "drivers",
    "swaps",
    "claims",
    "inflation",
    "season",
)  # the pages that say why costs changed, and what to do about it
FIRST = "catalogue"
ARROW = ":material/arrow_forward:"  # marks a link to another page


def room(name: str) -> st.Page:
    """Return the page called `name`, as st.page_link and st.switch_page take it."""
    return st.Page(_shown_by(name), title=TITLES[name], url_path=name)


def rooms(first: str = FIRST) -> list[st.Page]:
    """Return every page, as st.navigation takes them; `first` also at the address without a name.

    A default page has no address but the bare one, so the first page stands there twice: in the
    list of pages, and hidden from it under its own name.
    """
    shown = [
        st.Page(_shown_by(name), title=TITLES[name], url_path="first", default=True)
        if name == first
        else room(name)
        for name in TITLES
    ]
    own = st.Page(_shown_by(first), title=TITLES[first], url_path=first, visibility="hidden")
    return [*shown, own]


def _shown_by(name: str) -> Callable[[], None]:
    # here, not above: the pages link to each other through this file
    show: Callable[[], None] = import_module(f"dashboard.views.{name}").show
    return show
