"""What waits for a decision: each description once, the surest proposals first."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from dashboard.views.book import TheBook
from dashboard.views.loaders import ingredients_of
from dashboard.views.outcome import keep
from dashboard.views.pages import ARROW, page
from dashboard.views.tray_fields import (
    decision,
    forget,
    is_sure,
    is_ticked,
    keep_problems,
    key,
    problems_of,
    tick,
    written,
)
from dashboard.views.tray_loaders import tray_of
from dashboard.views.tray_row import chosen, draw_row
from dashboard.words.figures import counted
from dashboard.words.remedies import problem_words
from dashboard.words.tray import NEW_WITHOUT_BASE, WHAT_COMES_HERE, settled_words, wait_words
from ingest.problem_codes import Code
from ingest.report import FileReport
from ingest.tray.deciding import FIRST_LINE, NAME, decide
from ingest.tray.listing import WaitingWords
from pricing.errors import PortionDriftError
from pricing.names import name_key

A_PAGE = 25  # descriptions
_UNUSUAL = "tray unusual"  # a price was refused as unusual at the last press


def show(book: TheBook) -> None:
    """Draw what waits."""
    waiting = tray_of(book.state)
    if not waiting:
        st.info(f"Nothing waits for a decision. {WHAT_COMES_HERE}", icon=":material/info:")
        st.page_link(page("book"), label="Load a file", icon=ARROW)
        return
    lines = sum(each.lines for each in waiting)
    st.markdown(
        f"{wait_words(lines)}, under {counted(len(waiting), 'description')}. Say of each what it "
        "is: one decision settles all of its lines, now and in files to come."
    )
    _buttons(book, waiting)
    shown = _found(waiting)
    if not shown:
        st.info("No description has these words.")
        return
    names = [each.ingredient for each in ingredients_of(book.state)]
    for each in _of_page(shown):
        draw_row(book, each, names)
    _store_button(book, waiting, "store below")


def _buttons(book: TheBook, waiting: Sequence[WaitingWords]) -> None:
    sure = [each for each in waiting if is_sure(each)]
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        _store_button(book, waiting, "store")
        if sure:
            everywhere = ", on all pages" if len(waiting) > A_PAGE else ""
            st.button(
                f"Tick the {counted(len(sure), 'sure one')}{everywhere}",
                on_click=tick,
                args=(sure,),
                key="tick sure",
            )
        if any(map(is_ticked, waiting)):
            st.button("Untick all", on_click=tick, args=(waiting, False), key="untick")
    if st.session_state.get(_UNUSUAL):
        st.checkbox("Take unusually high or low prices as they are", key="tray take unusual")


def _store_button(book: TheBook, waiting: Sequence[WaitingWords], name: str) -> None:
    ticked = sum(map(is_ticked, waiting))
    st.button(
        f"Store {counted(ticked, 'decision')}" if ticked else "Store what is ticked",
        type="primary",
        disabled=not ticked,
        on_click=_store,
        args=(book, waiting),
        key=name,
    )


def _found(waiting: Sequence[WaitingWords]) -> list[WaitingWords]:
    """Draw the search, and return what it leaves; what was refused stands first."""
    left = list(waiting)
    if len(waiting) > A_PAGE:
        asked = st.text_input(
            "Find words or a sender", key="tray find", live=True, width=300, persist_state="session"
        )
        parts = name_key(asked or "").split()
        left = [
            each
            for each in waiting
            if all(part in name_key(f"{each.words} {each.sender or ''}") for part in parts)
        ]
    return sorted(left, key=lambda each: not problems_of(each))


def _of_page(shown: Sequence[WaitingWords]) -> Sequence[WaitingWords]:
    pages = -(-len(shown) // A_PAGE)
    if pages == 1:
        return shown
    number = min(st.pagination(pages, key="tray page"), pages)
    first = (number - 1) * A_PAGE
    return shown[first : first + A_PAGE]


def _store(book: TheBook, waiting: Sequence[WaitingWords]) -> None:
    """Store what is ticked as one load; what a check refuses stays, and why."""
    ticked = [each for each in waiting if is_ticked(each)]
    lacking = {key(each, ""): _lacking(book, each) for each in ticked}
    asked = [each for each in ticked if not lacking[key(each, "")]]
    problems = {each: [said] for each, said in lacking.items() if said}
    report = FileReport(file=NAME)
    if asked:
        try:
            rows = [decision(each, new=chosen(book, each) is None) for each in asked]
            unusual = bool(st.session_state.get("tray take unusual"))
            report = decide(book.book, rows, today=book.today, accept_unusual=unusual)
        except PortionDriftError as error:
            keep(str(error), stored=False)
            return
    for place, each in enumerate(asked, start=FIRST_LINE):
        problems[key(each, "")] = [
            problem_words(problem) for problem in report.problems if problem.line == place
        ]
    keep_problems({each: list(dict.fromkeys(said)) for each, said in problems.items() if said})
    st.session_state[_UNUSUAL] = any(
        problem.code == Code.UNUSUAL_PRICE for problem in report.problems
    )
    done = [each for each in asked if not problems_of(each)]
    for each in done:
        forget(each)
    remarks = report.remarks if done else ()
    first, *others = settled_words(len(done), len(ticked) - len(done), remarks)
    keep(first, stored=bool(done), load=report.load, remarks=others)


def _lacking(book: TheBook, each: WaitingWords) -> str:
    """Return what a decision lacks before it can be stored; "" if nothing."""
    if not written(each, "ingredient"):
        return "Choose what it is, or untick it."
    if chosen(book, each) is None and not written(each, "base"):
        return NEW_WITHOUT_BASE
    return ""
