"""The way from an empty book to a first costed dish."""

from __future__ import annotations

import streamlit as st

from dashboard.loaders import TheBook
from dashboard.page_text import sentences
from dashboard.views.load_file import load_file
from ingest.tables import TABLES

_STEPS = (
    ("ingredients", "what you buy, and the unit its price is counted in (g, ml or each)"),
    ("dishes", "one row a line: the dish, its portions, an ingredient, how much of it"),
    ("prices", "what a pack cost, and when; then each dish has a cost"),
)


def show_start(book: TheBook) -> None:
    """Draw the steps, a file of headings for each, and the file chooser."""
    st.info(
        "The book holds no ingredients yet. Three files fill it, in this order.",
        icon=":material/info:",
    )
    for number, (kind, what) in enumerate(_STEPS, start=1):
        words, button = st.columns([5, 2], vertical_alignment="center")
        words.markdown(f"**{number}. {kind}**: {what}")
        button.download_button(
            f"Headings for {kind}",
            ",".join(column.name for column in TABLES[kind]) + "\n",
            f"{kind}.csv",
            "text/csv",
            on_click="ignore",
            key=f"headings {kind}",
        )
    with sentences():
        load_file(book, kind="ingredients", started=False)
