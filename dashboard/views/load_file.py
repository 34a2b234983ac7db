"""Files: what a file would do to the book is shown first, and only a whole file is stored."""

from __future__ import annotations

from collections.abc import Sequence

import pandas as pd
import streamlit as st

from dashboard.loaders import TheBook, dry_run_of
from dashboard.page_text import plain
from dashboard.views.outcome import attempt
from dashboard.words import counted
from ingest.load import KINDS, load_bytes
from ingest.tables import TABLES
from pricing.errors import Problem

REPLACED = ("ingredients", "measures", "dishes", "swaps", "index")  # kinds whose facts may change
MOST_SHOWN = 100  # problems drawn as a table; all of them are in the file to download


def load_file(book: TheBook, *, kind: str = "prices", started: bool = True) -> None:
    """Draw the chooser, what the chosen file would add or what is wrong with it, and the button.

    `kind` is the kind chosen first; `started` is false for a book without anything to replace.
    """
    left, right = st.columns([2, 5])
    kind = left.selectbox("What is in the file", KINDS, index=KINDS.index(kind), key="file_kind")
    left.caption(columns_words(kind))
    turn = st.session_state.get("file_turn", 0)
    file = right.file_uploader("CSV file", type="csv", key=f"file {turn}")
    replace = unusual = False
    if kind == "prices" and started:
        unusual = right.checkbox("Take unusually high or low prices as they are", key="unusual_all")
    elif kind in REPLACED and started:
        replace = right.checkbox("Let changed facts replace those of the book", key="replace")
    if file is None:
        return
    data = file.getvalue()
    report = dry_run_of(book.state, kind, file.name, data, replace, unusual)
    for remark in report.remarks:
        st.info(plain(remark))
    if report.problems:
        _problems(file.name, report.problems)
        return
    already = f" {counted(report.already, 'row')} of it are in the book already."
    if report.added == 0:
        st.info(plain(f"Nothing to load from {file.name}.{already}"))
        return
    st.info(
        plain(
            f"{file.name} can be loaded: {counted(report.added, 'row')} would be added."
            + (already if report.already else "")
            + " Nothing is stored yet."
        )
    )
    st.button(
        f"Load {counted(report.added, 'row')}",
        type="primary",
        on_click=_load,
        args=(book, kind, file.name, data, replace, unusual),
    )


def columns_words(kind: str) -> str:
    """Return the columns of a kind of file, as Markdown: the required ones bold."""
    names = [
        f"**{plain(column.name)}**" if column.required else plain(column.name)
        for column in TABLES[kind]
    ]
    return f"Columns, bold ones required: {', '.join(names)}."


def problem_rows(problems: Sequence[Problem]) -> pd.DataFrame:
    """Return problems as a table: where, what was found, what was expected, what to do."""
    return pd.DataFrame(
        {
            "Line": [problem.line for problem in problems],
            "Column": [problem.column or "" for problem in problems],
            "Found": [problem.found for problem in problems],
            "Expected": [problem.expected for problem in problems],
            "What to do": [
                # the page has a tick box where the terminal has an option
                problem.remedy.replace("with --accept-unusual", "with the tick box above")
                for problem in problems
            ],
        }
    )


def _problems(name: str, problems: Sequence[Problem]) -> None:
    many = counted(len(problems), "problem")
    st.warning(plain(f"{name}: {many}; nothing was stored. Correct the file and load it again."))
    rows = problem_rows(problems)
    shown = rows.head(MOST_SHOWN).map(lambda cell: "" if pd.isna(cell) else plain(str(cell)))
    st.table(shown, hide_index=True, border="horizontal", alt=f"Problems of {name}")
    if len(rows) > MOST_SHOWN:
        st.caption(f"The first {MOST_SHOWN} of {len(rows):,}.")
    st.download_button(
        "All problems as a file", rows.to_csv(index=False), f"problems of {name}", "text/csv",
        on_click="ignore",
    )  # fmt: skip


def _load(book: TheBook, kind: str, name: str, data: bytes, replace: bool, unusual: bool) -> None:
    report = attempt(
        lambda: load_bytes(
            book.book, kind, name, data, today=book.on, replace=replace, accept_unusual=unusual
        ),
        name,
    )
    if report is not None:  # a new, empty file chooser
        st.session_state["file_turn"] = st.session_state.get("file_turn", 0) + 1
