"""The room of what is printed: which figures hold, which mislead, and what was said when."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from dashboard.tables import printed as table
from dashboard.views.address import Kept, choice, number
from dashboard.views.book import TheBook
from dashboard.views.choices import start_here
from dashboard.views.evidence import show_evidence
from dashboard.views.loaders import checked_figures_of, dishes_of, said_of, settings_of
from dashboard.views.outcome import show_outcome
from dashboard.views.pages import PART
from dashboard.views.record_printed import record_printed_form
from dashboard.views.reprint_round import show_reprint_round
from dashboard.views.room import Room, choose_part
from dashboard.views.rows_table import show_rows
from dashboard.views.sentences import sentences
from dashboard.words.dish import LOCAL_LAW
from dashboard.words.figures import counted
from dashboard.words.house_rules import rules_sentence
from dashboard.words.markdown import plain
from dashboard.words.printed import (
    COLUMNS_MEAN,
    gap_words,
    lacking_words,
    many_words,
    verdict_words,
)
from pricing.printed.records import CheckedFigure, CheckedFigures

ALL = "all dishes"
_COUNTED = (  # verdict, which of the two it is, what it means
    ("holds", "now", "today's cost is within the tolerance of the printed figure"),
    ("stale", "now", "today's cost is not within the tolerance"),
    ("differs", "then", "on its own day it was off already: correct it"),
    ("cannot price", "now", "a line of the recipe has no price today"),
)


PARTS = {
    "figures": "Every figure, checked",
    "round": "Reprint round",
    "record": "Record a figure",
    "said": "What we said, what we know now",
}


def fields(book: TheBook) -> dict[str, Kept]:
    """Return the part that is open, the dish, and the tolerance."""
    names = [dish.dish for dish in dishes_of(book.state)]
    return {
        PART: choice(list(PARTS)),
        "dish": choice([ALL, *names]),
        "tolerance": number(settings_of(book.state).tolerance, 0.0, 100.0),
    }


def show(book: TheBook) -> None:
    """Draw the room."""
    st.header("Print", anchor=False)
    show_outcome()
    dishes = [dish.dish for dish in dishes_of(book.state)]
    if not dishes:
        start_here("dishes")
        return
    part = choose_part(PARTS)
    choose, limit = st.columns([3, 2])
    picked = choose.selectbox("Dish", [ALL, *dishes], key="dish")
    dish = None if picked == ALL else picked
    with sentences():
        if part == "record":
            record_printed_form(book, dishes, dish)
        elif part == "round":
            show_reprint_round(book, dish)
        elif part == "said":
            show_evidence(said_of(book.state), dish)
        else:
            tolerance = limit.number_input(
                "Tolerance, % of the printed figure", min_value=0.0, max_value=100.0, step=1.0,
                key="tolerance",
            )  # fmt: skip
            _checked(book, dish, tolerance)


def _checked(book: TheBook, dish: str | None, tolerance: float) -> None:
    found = checked_figures_of(book.state, tolerance, dish)
    if not found.figures:
        what = "The book holds no printed figure" + (f" of {dish}" if dish else "")
        st.info(
            f"{plain(what)} yet. Record one under **Record a figure**, or load a file of kind "
            "**printed** in the room Book.",
            icon=":material/info:",
        )
        return
    for column, (verdict, which, meaning) in zip(st.columns(len(_COUNTED)), _COUNTED, strict=True):
        number = sum(each[which] == verdict for each in found.in_force)
        column.metric(verdict_words(verdict), number, help=meaning)
    st.markdown(plain(f"{many_words(found)}."))
    st.caption(
        plain(
            f"Per portion, those that mislead most first. {COLUMNS_MEAN} A figure is costed for "
            "the day it was published, unless another is named, and always with the sub-recipes "
            "of that day. A dish leads to why. "
            f"{rules_sentence(settings_of(book.state))}"
        )
    )
    if found.in_force:
        _table(found.in_force, found, "Figures in force")
    if found.superseded:
        st.subheader("Superseded", anchor=False)
        st.caption("A later figure of the same dish was published.")
        _table(found.superseded, found, "Superseded figures", replaced=True)
    _lacking(found)
    _corrections(found)
    st.caption(LOCAL_LAW)


def _table(
    figures: Sequence[CheckedFigure], found: CheckedFigures, alt: str, *, replaced: bool = False
) -> None:
    rows = table.figure_rows(figures, found.on, replaced=replaced)
    show_rows(rows, alt=alt, figure="Off now")


def _lacking(found: CheckedFigures) -> None:
    for figure in found.figures:
        if figure.gaps:
            st.markdown(plain(f"{lacking_words(figure)}:"))
            for gap in figure.gaps:
                st.markdown(f"- {plain(gap_words(gap))}")


def _corrections(found: CheckedFigures) -> None:
    listed = table.to_correct(found)
    st.subheader("List of corrections", anchor=False)
    if not listed:
        st.markdown(plain("Nothing to correct within this tolerance."))
        return
    st.markdown(
        plain(f"{counted(len(listed), 'figure')} off by more than {found.tolerance_pct:g} %.")
    )
    name = f"corrections {found.on.isoformat()}"
    with st.container(horizontal=True):
        st.download_button(
            "To print (Markdown)", table.correction_list(found), f"{name}.md", "text/markdown",
            on_click="ignore",
        )  # fmt: skip
        st.download_button(
            "As a table (CSV)", table.correction_frame(found).to_csv(index=False), f"{name}.csv",
            "text/csv", on_click="ignore",
        )  # fmt: skip


ROOM = Room(show=show, fields=fields)
