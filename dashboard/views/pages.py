"""The pages of the dashboard: their names, their addresses, and the way from one to another."""

from __future__ import annotations

import streamlit as st
from streamlit.navigation.page import StreamlitPage

TITLES = {
    "catalogue": "Catalogue",
    "dish": "Dish",
    "then_and_now": "Then and now",
    "drivers": "Drivers",
    "swaps": "Swaps",
    "printed": "Printed figures",
    "inflation": "Kitchen inflation",
    "season": "Season",
    "prices": "Prices",
    "tray": "Tray",
    "official_series": "Official series",
}
WHY = (
    "then_and_now",
    "drivers",
    "swaps",
    "printed",
    "inflation",
    "season",
)  # the pages that say why costs changed, and what to do about it
FIRST = "catalogue"
ARROW = ":material/arrow_forward:"  # marks a link to another page


def page(name: str) -> StreamlitPage:
    """Return the way to the page called `name`, as st.page_link and st.switch_page take it.

    Only its address counts there: what it shows, the dashboard itself knows (app.py), so that
    pages that lead to each other need not import each other.
    """
    return st.Page(_shown_by_the_app, title=TITLES[name], url_path=name)


def _shown_by_the_app() -> None:
    raise NotImplementedError
