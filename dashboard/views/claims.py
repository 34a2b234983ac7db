"""The page of published figures: which hold, which mislead, and what was said when."""

from __future__ import annotations

import streamlit as st

from dashboard.tables import claims as table
from dashboard.views.book import TheBook, the_book
from dashboard.views.choices import start_here
from dashboard.views.evidence import show_evidence
from dashboard.views.loaders import checked_claims_of, dishes_of, said_of
from dashboard.views.outcome import show_outcome
from dashboard.views.record_claim import record_claim_form
from dashboard.views.sentences import sentences
from dashboard.words.figures import counted
from dashboard.words.markdown import plain
from pricing.days import day_words
from pricing.printed.check import TOLERANCE_PCT, Claims

ALL = "all dishes"


def show() -> None:
    """Draw the page."""
    book = the_book()
    st.header("Claims", anchor=False)
    show_outcome()
    dishes = [dish.dish for dish in dishes_of(book.state)]
    if not dishes:
        start_here("dishes")
        return
    choose, limit = st.columns([3, 2])
    picked = choose.selectbox("Dish", [ALL, *dishes], key="dish", bind="query-params")
    tolerance = limit.number_input(
        "Tolerance, % of the printed figure", min_value=0.0, max_value=100.0, value=TOLERANCE_PCT,
        step=1.0, key="tolerance",
    )  # fmt: skip
    dish = None if picked == ALL else picked
    checked, record, said = st.tabs(
        ["Every figure, checked", "Record a figure", "What we said, what we know now"]
    )
    with checked, sentences():
        _checked(book, dish, tolerance)
    with record, sentences():
        record_claim_form(book, dishes, dish)
    with said, sentences():
        show_evidence(said_of(book.state), dish)


def _checked(book: TheBook, dish: str | None, tolerance: float) -> None:
    found = checked_claims_of(book.state, tolerance, dish)
    if not found.claims:
        what = "The book holds no published figure" + (f" of {dish}" if dish else "")
        st.info(
            f"{plain(what)} yet. Record one under **Record a figure**, or load a file of kind "
            "**claims** on the page Prices.",
            icon=":material/info:",
        )
        return
    many = {
        status: sum(claim.status == status for claim in found.claims) for status in table.SYMBOLS
    }
    for column, (status, number) in zip(st.columns(len(many)), many.items(), strict=True):
        column.metric(table.status_words(status), number, help=table.MEANINGS[status])
    st.caption(
        plain(
            f"{counted(len(found.claims), 'published figure')} per portion, those that mislead "
            f"most first, at prices of {day_words(found.on)}. Costed then: for the day of "
            "publication. By food, by all items: the printed figure moved by the official series. "
            "A dish leads to its then and now."
        )
    )
    st.table(
        table.claim_rows(found.claims), hide_index=True, border="horizontal",
        alt="Every published figure, checked",
    )  # fmt: skip
    _lacking(found)
    _corrections(found)


def _lacking(found: Claims) -> None:
    for claim in found.claims:
        if claim.gaps:
            day = day_words(claim.published_on)
            st.markdown(plain(f"{claim.dish}, printed on {day}, cannot be priced:"))
            for gap in claim.gaps:
                st.markdown(f"- {plain(f'on {day_words(gap.on)}, {gap.ingredient}: {gap.reason}')}")


def _corrections(found: Claims) -> None:
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
