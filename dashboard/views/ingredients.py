"""The room of ingredients: one with its prices and season, or all by their effect on cost."""

from __future__ import annotations

import streamlit as st

from dashboard.tables.ingredients import ingredient_rows, use_rows
from dashboard.views import what_if
from dashboard.views.address import Kept, choice, follow_on, named
from dashboard.views.book import TheBook, one_look
from dashboard.views.choices import start_here
from dashboard.views.ingredient_facts import show_facts
from dashboard.views.loaders import drivers_of, ingredients_of, settings_of, uses_of
from dashboard.views.outcome import show_outcome
from dashboard.views.pages import PART
from dashboard.views.price_history import show_history
from dashboard.views.room import Room, choose_part, open_part
from dashboard.views.rows_table import show_rows
from dashboard.views.season import show_season
from dashboard.views.sentences import sentences
from dashboard.views.unknown import say_unknown, with_this_name

INGREDIENT = "ingredient"
PARTS = {"all": "All ingredients", "what-if": "What if a price changes"}


def fields(book: TheBook) -> dict[str, Kept]:
    """Return the choices of the part that is open."""
    if named(INGREDIENT):
        return {}
    part = named(PART) or open_part(PARTS)
    more = what_if.fields(book) if part == "what-if" else {}
    return {PART: choice(list(PARTS))} | more


def show(book: TheBook) -> None:
    """Draw the room."""
    names = [each.ingredient for each in ingredients_of(book.state)]
    if asked := named(INGREDIENT):
        found = with_this_name(asked, names)
        if found is None:
            say_unknown(INGREDIENT, asked, names)
        else:
            _one(book, found)
        return
    st.header("Ingredients", anchor=False)
    show_outcome()
    if not names:
        start_here("ingredients")
        return
    if choose_part(PARTS) == "what-if":
        with sentences():
            what_if.show_what_if(book, (), book.on)
        return
    show_rows(
        ingredient_rows(ingredients_of(book.state), drivers_of(book.state, (), book.on, book.on)),
        alt="Ingredients by their share of the mean cost",
    )  # fmt: skip


def _one(book: TheBook, name: str) -> None:
    st.header(name, anchor=False)
    show_outcome()
    show_history(book, name)
    with st.expander("Facts"), sentences():
        show_facts(book, name)
    st.subheader("Dishes that use it", anchor="dishes", divider="gray")
    with sentences():
        uses = uses_of(book.state, name)
        if uses:
            base = next(e.base for e in ingredients_of(book.state) if e.ingredient == name)
            show_rows(
                use_rows(uses, base, settings_of(book.state).currency),
        alt=f"Dishes that use {name}",
            )  # fmt: skip
        else:
            st.markdown("No dish that counts uses it on this day.")
    st.subheader("When it is cheap", anchor="season", divider="gray")

    @st.fragment
    def season() -> None:
        follow_on()
        with one_look(), sentences():
            show_season(book, name)

    season()


ROOM = Room(show=show, fields=fields, pinned=(INGREDIENT,))
