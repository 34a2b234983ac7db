"""Chosen swaps seen in the lines of a dish, and the way to save them as a version."""

from __future__ import annotations

import streamlit as st

from dashboard.views.address import Kept
from dashboard.views.book import TheBook
from dashboard.views.loaders import dishes_of
from dashboard.views.new_version import EDIT
from dashboard.views.pages import page
from dashboard.views.recipe_fields import being_written, open_recipe
from dashboard.views.recipe_loaders import swapped_of
from dashboard.views.rows_table import show_rows
from dashboard.words.markdown import plain
from dashboard.words.recipe import amount_of, head_of, line_of, next_version
from pricing.names import name_key
from pricing.swaps.as_lines import SwappedVersion
from pricing.swaps.records import Swaps
from pricing.swaps.swap import SwapName

MAKE = "make"


def fields() -> dict[str, Kept]:
    """Return the swaps ticked by hand, which stand in the address."""
    return {MAKE: Kept(start=[], read=list, write=list)}


def show_save_swaps(book: TheBook, found: Swaps, version: str | None) -> None:
    """Draw the lines that swaps would change: those ticked, else those the target chose."""
    names = {each.in_words(): SwapName(**each.named()) for each in found.swaps}
    st.markdown("**In the lines**")
    st.session_state[MAKE] = [each for each in st.session_state.get(MAKE, []) if each in names]
    ticked = st.multiselect(
        "Swaps to write into a new version", list(names), key=MAKE,
        placeholder="those that the target chose" if found.target else "tick some",
    )  # fmt: skip
    chosen = [names[each] for each in ticked]
    if not chosen and found.target is not None:
        chosen = [SwapName(**each.named()) for each in found.target.chosen]
    if not chosen:
        return
    if len({name_key(each.ingredient) for each in chosen}) < len(chosen):
        st.warning("Two of these swaps are of one ingredient. Keep one of them.")
        return
    swapped = swapped_of(book.state, found.dish, version, tuple(chosen))
    if swapped.changed:
        show_rows(
            [
                {"Line now": plain(amount_of(now)), "It becomes": plain(amount_of(then))}
                for now, then in swapped.changed
            ],
            alt="Lines that the swaps change",
        )  # fmt: skip
    for sentence in swapped.said:
        st.caption(plain(sentence))
    _save(book, swapped)


def _save(book: TheBook, swapped: SwappedVersion) -> None:
    if not swapped.changed:
        return
    dish = swapped.version.dish
    open_now = being_written(dish)
    if open_now is not None and open_now.changed():
        st.info("A new version of this dish is being written. Store it or put it away first.")
        st.page_link(
            page("dishes"), label="Go on with the new version", icon=":material/edit:",
            query_params={"dish": dish, EDIT: swapped.version.version},
        )  # fmt: skip
    elif st.button("Write them into a new version", icon=":material/edit:"):
        write_swaps(book, swapped)
        st.switch_page(page("dishes"), query_params={"dish": dish, EDIT: swapped.version.version})


def write_swaps(book: TheBook, swapped: SwappedVersion) -> None:
    """Open the editor of a new version with the swaps in its lines."""
    version = swapped.version
    labels = [
        each.version
        for dish in dishes_of(book.state)
        if dish.dish == version.dish
        for each in dish.versions
    ]
    open_recipe(
        version.dish,
        head_of(version, next_version(labels, book.today), book.today),
        [line_of(line) for line in version.lines],
        copied_from=version.version,
        said=swapped.said,
    ).put([line_of(line) for line in swapped.lines])
