"""The part of the room Print for a reprint: prices to check, each figure anew, corrections."""

from __future__ import annotations

import streamlit as st

from dashboard.tables import reprint as table
from dashboard.views.book import TheBook
from dashboard.views.loaders import settings_of
from dashboard.views.outlook_loaders import USUAL_MONTHS, AheadAsked, outlook_of
from dashboard.views.print_loaders import reprint_of
from dashboard.views.rows_table import show_rows
from dashboard.words.dish import LOCAL_LAW
from dashboard.words.figures import counted
from dashboard.words.house_rules import rules_sentence
from dashboard.words.markdown import plain
from dashboard.words.outlook import outlook_line
from dashboard.words.price_list import price_file, price_list
from dashboard.words.reprint import CHECK_MEANS, correction_words, reprint_head
from pricing.errors import SeriesRefused
from pricing.reprint.records import Reprint


def show_reprint_round(book: TheBook, dish: str | None) -> None:
    """Draw the round of every figure in force, or of one dish."""
    found = reprint_of(book.state, dish)
    if not found.dishes:
        st.info(
            "No dish has a printed figure in force. Record one under **Record a figure**, or "
            "choose a dish to be printed for the first time.",
            icon=":material/info:",
        )
        return
    rules = rules_sentence(settings_of(book.state))
    st.markdown(plain(f"{reprint_head(found)}. {rules}"))
    _to_check(found)
    st.subheader("Then print", anchor=False)
    st.caption(
        "Per portion. The recipe in force at prices of the day in the bar, by the house's rules "
        f"under **Settings** of the room Book. A dish leads to why. {LOCAL_LAW}"
    )
    show_rows(table.figure_rows(found), alt="Figures to print", figure="To print")
    st.subheader("Corrections", anchor=False)
    if not found.corrections:
        st.markdown(
            plain(f"No figure was off by more than {found.tolerance_pct:g} % when it was costed.")
        )
    for each in found.corrections:
        st.markdown(f"- {plain(correction_words(each, found.on))}")
    _ahead(book, dish)


def _ahead(book: TheBook, dish: str | None) -> None:
    st.subheader("When the issue is out", anchor=False)
    try:
        found = outlook_of(book.state, dish, AheadAsked(months=USUAL_MONTHS))
    except SeriesRefused as error:  # it is not what this part of the room is for: no warning
        st.caption(plain(str(error)))
        return
    st.markdown(plain(outlook_line(found)))


def _to_check(found: Reprint) -> None:
    st.subheader("First, prices worth checking", anchor=False)
    if not found.check:
        st.markdown("None: every price behind these figures is of the day itself.")
        return
    st.caption(plain(CHECK_MEANS))
    name = f"prices to check {found.on.isoformat()}"
    with st.container(horizontal=True):
        st.download_button(
            "List for the shops (Markdown)", price_list(found), f"{name}.md", "text/markdown",
            on_click="ignore",
        )  # fmt: skip
        st.download_button(
            "To fill in and load (CSV)", price_file(found), f"{name}.csv", "text/csv",
            on_click="ignore",
        )  # fmt: skip
    rows = table.check_rows(found)
    show_rows(rows, alt="Prices worth checking")
    if (more := len(found.check) - table.MOST_SHOWN) > 0:
        st.caption(f"{counted(more, 'other price')} would change less; list and file have them.")
