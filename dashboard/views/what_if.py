"""What changes of price, of ingredients or categories, would do to every dish."""

from __future__ import annotations

from datetime import date

import streamlit as st

from dashboard.tables.drivers import what_if_rows
from dashboard.views.address import Kept, number, some_of
from dashboard.views.book import TheBook
from dashboard.views.loaders import ingredients_of, what_if_of
from dashboard.views.rows_table import show_rows
from dashboard.words.drivers import what_if_words
from dashboard.words.figures import counted, signed_fine
from dashboard.words.markdown import plain
from pricing.days import day_words
from pricing.money import show_money

MOVED, BY = "moved", "by "  # what changes; by how much, of each
_USUAL_PCT = 10.0


def fields(book: TheBook) -> dict[str, Kept]:
    """Return what is supposed to change, and by how much."""
    things = _things(book)
    chosen = [*st.query_params.get_all(MOVED), *st.session_state.get(MOVED, ())]
    return {
        MOVED: some_of(things),
        **{BY + name: number(_USUAL_PCT, -99.0, 1000.0) for name in chosen if name in things},
    }


def _things(book: TheBook) -> list[str]:
    """Return categories, then ingredients."""
    known = ingredients_of(book.state)
    names = [each.ingredient for each in known]
    return [*sorted({each.category for each in known if each.category} - set(names)), *names]


def show_what_if(book: TheBook, dishes: tuple[str, ...], on: date) -> None:
    """Draw the choices and what they do to each dish at prices of `on`."""
    categories = {each.category for each in ingredients_of(book.state) if each.category}
    names = st.multiselect(
        "Ingredients or categories", _things(book), key=MOVED, placeholder="Choose one or several",
        format_func=lambda each: f"all of {each}" if each in categories else each,
    )  # fmt: skip
    if not names:
        st.info("Choose what becomes dearer or cheaper, to see what each dish would cost.")
        return
    asked = []
    with st.container(horizontal=True):
        for name in names:
            moved = st.number_input(
                f"{plain(name)}, change in %", min_value=-99.0, max_value=1000.0, step=5.0,
                format="%.1f", key=BY + name, width=220,
            )  # fmt: skip
            asked.append(f"{name}={moved:+.1f}%")
    found = what_if_of(book.state, tuple(asked), dishes, on)
    touched = sum(abs(each.change) > 1e-9 for each in found.dishes)
    less = found.mean_if < found.mean_now
    said = " and ".join(what_if_words(change) for change in found.changes)
    st.markdown(
        plain(
            f"If {said} from the prices of {day_words(on)}, {touched:,} of "
            f"{counted(len(found.dishes), 'dish', 'dishes')} would cost "
            f"{'less' if less else 'more'}, and the mean cost per portion would go from "
            f"{show_money(found.mean_now, found.currency)} to "
            f"{show_money(found.mean_if, found.currency)} "
            f"({signed_fine(found.mean_if - found.mean_now, found.currency)})."
        )
    )
    show_rows(
        what_if_rows(found),
        alt="Every dish with and without the change of price",
    )  # fmt: skip
