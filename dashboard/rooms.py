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
    "claims": "Claims",
    "inflation": "Kitchen inflation",
    "prices": "Prices",
}
WHY = ("then_and_now", "drivers", "claims", "inflation")  # the pages that say why costs changed
FIRST = "catalogue"
ARROW = ":material/arrow_forward:"  # marks a link to another page


def room(name: str, *, first: str = FIRST) -> st.Page:
    """Return the page called `name`, as st.navigation, st.page_link and st.switch_page take it."""
    return st.Page(_shown_by(name), title=TITLES[name], url_path=name, default=name == first)


def _shown_by(name: str) -> Callable[[], None]:
    # here, not above: the pages link to each other through this file
    show: Callable[[], None] = import_module(f"dashboard.views.{name}").show
    return show
