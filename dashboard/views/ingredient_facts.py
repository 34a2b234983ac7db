"""The facts of an ingredient, edited in place: each time they are stored anew, none is erased."""

from __future__ import annotations

import streamlit as st

from dashboard.views.book import TheBook
from dashboard.views.outcome import attempt
from dashboard.views.recipe_loaders import facts_of
from dashboard.words.markdown import plain
from dashboard.words.recipe import facts_texts, wrong_words
from dashboard.words.tray import FACTS
from ingest.load import add_ingredient

_BASES = {"g": "by weight (g)", "ml": "by volume (ml)", "each": "by the piece (each)"}
_LABELS = {
    **{name: label for name, label in FACTS.items() if name != "base"},
    "allergens": "Allergens",
    "aliases": "Other names",
}
_HINTS = {
    "allergens": "unknown; or none, if so stated",
    "aliases": "with semicolons between",
    "series": "id of a series",
}


def show_facts(book: TheBook, ingredient: str) -> None:
    """Draw the facts as fields; they are stored together."""
    held = facts_texts(facts_of(book.state, ingredient))
    state = "|".join(held.values())  # new facts have fields of their own
    fields = {"ingredient": ingredient}
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        fields["base"] = st.selectbox(
            FACTS["base"], list(_BASES), index=list(_BASES).index(held["base"]),
            format_func=_BASES.__getitem__, key=f"fact base {ingredient} {state}", width=190,
            persist_state="session",
        )  # fmt: skip
        for name, label in _LABELS.items():
            fields[name] = st.text_input(
                label, held[name], key=f"fact {name} {ingredient} {state}",
                placeholder=_HINTS.get(name, "unstated"), width=190, persist_state="session",
            ) or ""  # fmt: skip
    st.caption(
        "Blank allergens are unknown, not none. Facts count for every date from now on; what was "
        "stored before stays in the book, and comes back when this is taken back. Check the labels."
    )
    if {name: text.strip() for name, text in fields.items()} == held:
        return
    seen = add_ingredient(book.book, fields, today=book.today, dry_run=True, replace=True)
    for problem in seen.problems:
        st.warning(plain(wrong_words(problem)))
    for remark in seen.remarks:
        st.caption(plain(remark))
    if not seen.problems and st.button("Store these facts", type="primary"):
        attempt(
            lambda: add_ingredient(book.book, fields, today=book.today, replace=True),
            f"What is known of {ingredient}",
        )
        st.rerun()
