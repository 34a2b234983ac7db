"""The room of dishes: one dish, or all of them, what moved them, and what they say of inflation."""

from __future__ import annotations

from datetime import timedelta

import streamlit as st

from dashboard.views import bench, catalogue, dish, drivers, inflation
from dashboard.views.address import Kept, choice, named
from dashboard.views.book import TheBook
from dashboard.views.choices import start_here
from dashboard.views.enter_swap import enter_swap
from dashboard.views.loaders import dishes_of
from dashboard.views.new_version import EDIT, show_new_dish, show_new_version, show_unfinished
from dashboard.views.outcome import show_outcome
from dashboard.views.pages import PART, page
from dashboard.views.room import Room, choose_part, open_part
from dashboard.views.sentences import sentences
from dashboard.views.swaps_over_all import swaps_over_all
from dashboard.views.unknown import say_unknown, with_this_name

A_YEAR = timedelta(days=365)
DISH = "dish"
PARTS = {
    "all": "All dishes",
    "drivers": "What moved the cost",
    "inflation": "Kitchen inflation",
    "swaps": "Swaps",
    "bench": "Test bench",
    "new": "New dish",
}
_FIELDS = {
    "all": catalogue.fields,
    "drivers": drivers.fields,
    "inflation": inflation.fields,
    "bench": bench.fields,
}


def fields(book: TheBook) -> dict[str, Kept]:
    """Return the choices of a dish, or of the part that is open."""
    names = {each.dish: each for each in dishes_of(book.state)}
    if asked := named(DISH):
        found = with_this_name(asked, names)
        return {} if found is None or named(EDIT) else dish.fields(book, names[found])
    part = named(PART) or open_part(PARTS)
    more = _FIELDS[part](book) if part in _FIELDS and names else {}
    return {PART: choice(list(PARTS))} | more


def show(book: TheBook) -> None:
    """Draw the room."""
    dishes = {each.dish: each for each in dishes_of(book.state)}
    if asked := named(DISH):
        found = with_this_name(asked, dishes)
        if found is None:
            say_unknown("dish", asked, list(dishes))
        elif version := named(EDIT):
            show_new_version(book, dishes[found], version)
        else:
            dish.show(book, dishes[found])
        return
    st.header("Dishes", anchor=False)
    show_outcome()
    if not dishes and named(PART) != "new":
        start_here("dishes")
        st.page_link(page("dishes"), label="Write one here", query_params={PART: "new"})
        return
    part = choose_part(PARTS)
    if part != "new":
        show_unfinished()
    with sentences():
        if part == "drivers":
            drivers.show(book)
        elif part == "inflation":
            inflation.show(book)
        elif part == "swaps":
            swaps_over_all(book, book.on)
            with st.expander("Enter a swap"):
                enter_swap(book)
        elif part == "bench":
            bench.show(book)
        elif part == "new":
            show_new_dish(book)
        else:
            catalogue.show(book)


ROOM = Room(show=show, fields=fields, pinned=(DISH, EDIT))
