"""What came of the last thing that was stored, and the way to take it back."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

import streamlit as st

from dashboard.views.address import place
from dashboard.views.book import the_book
from dashboard.views.pages import ARROW, page
from dashboard.words.figures import counted
from dashboard.words.markdown import plain
from dashboard.words.tray import wait_words
from ingest.load import FileReport, undo, undo_row
from pricing.errors import InputRefused, PortionDriftError, Problem

_KEY = "outcome"


def attempt(
    act: Callable[[], FileReport], what: str, *, clear: Iterable[str] = ()
) -> FileReport | None:
    """Do what a button asks for and keep what came of it for the next drawing of the page.

    `what` names it in the sentence: "The price of butter". `clear` are the keys of fields that
    are empty again once it is done. Returns None when it was refused.
    """
    try:
        report = act()
    except PortionDriftError as error:
        keep(str(error), stored=False, problems=getattr(error, "problems", ()))
        return None
    if report.problems:
        keep(f"{what} was not stored.", stored=False, problems=report.problems)
        return None
    if report.load is None:
        keep(f"{what} is in the book already; nothing new was stored.", stored=True)
    elif report.waiting and not report.added:
        keep(f"{what} is in the tray.", stored=True, load=report.load)
    else:
        already = f", {report.already:,} were there already" if report.already else ""
        keep(
            f"{what} is stored: {counted(report.added, 'row')} added{already}.",
            stored=True,
            load=report.load,
        )
    if report.waiting:
        st.session_state[_KEY]["waiting"] = report.waiting
    for key in clear:
        _empty(key)
    return report


def _empty(key: str) -> None:
    """Empty a field: a browser keeps what stands in one that is only forgotten here."""
    value = st.session_state.get(key)
    if isinstance(value, str | bool):
        st.session_state[key] = type(value)()
    else:
        st.session_state.pop(key, None)


def keep(
    sentence: str,
    *,
    stored: bool,
    load: int | None = None,
    problems: tuple[Problem, ...] = (),
    remarks: Sequence[str] = (),
) -> None:
    """Keep a sentence for the top of the page, and remarks or problems below it."""
    said = [sentence, *remarks, *(problem.sentence() for problem in problems)]
    st.session_state[_KEY] = {
        "said": said, "stored": stored, "load": load, "waiting": 0, "place": None,
    }  # fmt: skip


def show_outcome(key: str = "take_back") -> None:
    """Draw what was kept, with a button that takes a stored load back; not in another place."""
    kept = st.session_state.get(_KEY)
    if kept is None:
        return
    kept["place"] = kept["place"] or place()  # where it is first shown: storing may lead elsewhere
    if kept["place"] != place():
        del st.session_state[_KEY]
        return
    first, *others = kept["said"]
    words = "\n\n".join([plain(first), *(f"- {plain(each)}" for each in others)])
    (st.success if kept["stored"] else st.warning)(words)
    if kept["waiting"]:
        wait = f"{wait_words(kept['waiting'])}: decide in the Tray"
        st.page_link(page("book"), label=wait, query_params={"part": "tray"}, icon=ARROW)
    if kept["load"] is not None:
        st.button("Take it back", on_click=take_back, args=(kept["load"],), key=key)


def take_back(load: int) -> None:
    """Take a load back, and say what came of it."""
    try:
        rows = undo(the_book().book, load)
    except InputRefused as refused:
        keep(str(refused), stored=False, problems=refused.problems)
    except PortionDriftError as refused:
        keep(str(refused), stored=False)
    else:
        keep(f"Taken back: {counted(rows, 'row')} of load {load} no longer count.", stored=True)


def take_back_row(row: int, reason: str = "") -> None:
    """Take one price, swap, printed figure or decision back, and say what came of it."""
    try:
        gone = undo_row(the_book().book, row, reason=reason)
    except PortionDriftError as refused:
        keep(str(refused), stored=False)
    else:
        keep(f"Taken back: a {gone.what} of {gone.name}.", stored=True)
