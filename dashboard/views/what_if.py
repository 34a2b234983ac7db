"""What a change of the price of an ingredient, or of a category, would do to every dish."""

from __future__ import annotations

from datetime import date

import streamlit as st

from dashboard.tables.drivers import what_if_rows
from dashboard.views.address import Kept, choice, number
from dashboard.views.book import TheBook
from dashboard.views.loaders import ingredients_of, what_if_of
from dashboard.words.drivers import what_if_words
from dashboard.words.figures import counted, signed_fine
from dashboard.words.markdown import plain
from pricing.days import day_words
from pricing.money import show_money


def fields(book: TheBook) -> dict[str, Kept]:
    """Return what is supposed to change, and by how much."""
    return {"moved": choice(_things(book)), "moved_by": number(10.0, -99.0, 1000.0)}


def _things(book: TheBook) -> list[str]:
    """Return categories, then ingredients."""
    known = ingredients_of(book.state)
    names = [each.ingredient for each in known]
    return [*sorted({each.category for each in known if each.category} - set(names)), *names]


def show_what_if(book: TheBook, dishes: tuple[str, ...], on: date) -> None:
    """Draw the two choices and what they do to each dish at prices of `on`."""
    categories = {each.category for each in ingredients_of(book.state) if each.category}
    what, how_much = st.columns([3, 2])
    name = what.selectbox(
        "Ingredient or category", _things(book), key="moved",
        format_func=lambda each: f"all of {each}" if each in categories else each,
    )  # fmt: skip
    moved = how_much.number_input(
        "Change of its price, %", min_value=-99.0, max_value=1000.0, step=5.0,
        format="%.1f", key="moved_by",
    )  # fmt: skip
    found = what_if_of(book.state, f"{name}={moved:+.1f}%", dishes, on)
    (change,) = found.changes
    touched = sum(abs(each.change) > 1e-9 for each in found.dishes)
    st.markdown(
        plain(
            f"If {what_if_words(change)} from the prices of {day_words(on)}, {touched:,} of "
            f"{counted(len(found.dishes), 'dish', 'dishes')} would cost "
            f"{'less' if moved < 0 else 'more'}, and the mean cost per portion would go from "
            f"{show_money(found.mean_now, found.currency)} to "
            f"{show_money(found.mean_if, found.currency)} "
            f"({signed_fine(found.mean_if - found.mean_now, found.currency)})."
        )
    )
    st.table(
        what_if_rows(found), hide_index=True, border="horizontal",
        alt="Every dish with and without the change of price",
    )  # fmt: skip
