"""Over all dishes: the swaps that would save most, and the dishes over their target."""

from __future__ import annotations

from datetime import date

import streamlit as st

from dashboard.tables.swaps import catalogue_rows, over_target_rows
from dashboard.views.book import TheBook
from dashboard.views.rows_table import show_rows
from dashboard.views.swap_loaders import catalogue_swaps_of
from dashboard.words.figures import counted
from dashboard.words.markdown import plain


def swaps_over_all(book: TheBook, on: date) -> None:
    """Draw both tables."""
    found = catalogue_swaps_of(book.state, on)
    st.subheader("Dishes over their target", anchor=False)
    if found.over_target:
        show_rows(
            over_target_rows(found),
        alt="Dishes over their target",
        )  # fmt: skip
    elif found.targets:
        st.markdown(f"All {counted(found.targets, 'dish', 'dishes')} with a target are within it.")
    else:
        st.info(
            "No dish has a target. Give one in the column `target` of a dishes file.",
            icon=":material/info:",
        )
    st.subheader("The swaps that would save most", anchor=False)
    rows = catalogue_rows(found)
    if not rows:
        st.info("No swap in the book saves anything on this day.", icon=":material/info:")
        return
    show_rows(rows, alt="Swaps over all dishes")
    say_how_often = counted(found.told_how_often, "dish says", "dishes say")
    st.caption(
        plain(
            "Each made once: a whole batch of every dish in which the swap works. Per month: over "
            f"the dishes that say how often they are made ({say_how_often} so, in the column "
            "`made_per_month` of a dishes file)."
        )
    )
