"""Files: what a file would do to the book is shown first, and only a whole file is stored."""

from __future__ import annotations

from collections.abc import Sequence

import pandas as pd
import streamlit as st

from dashboard.tables.load_file import problem_rows
from dashboard.views.book import TheBook
from dashboard.views.chosen_file import ChosenFile
from dashboard.views.loaders import dry_run_of
from dashboard.views.outcome import attempt
from dashboard.views.pages import ARROW, page
from dashboard.views.rows_table import show_rows
from dashboard.words.figures import counted
from dashboard.words.forms import form_words
from dashboard.words.markdown import plain
from dashboard.words.remedies import remark_on_the_page
from dashboard.words.tray import wait_words
from ingest.load import KINDS
from ingest.text.columns import TABLES
from pricing.errors import Problem

READ = (  # endings of files that can be read; which form one has, its content says
    "csv", "tsv", "txt", "xlsx", "xls", "xlsb", "ods", "xml", "pdf", "html", "htm", "json",
)  # fmt: skip
PASTED = ("prices", "dishes")  # kinds of which text may be pasted
REPLACED = ("ingredients", "measures", "dishes", "swaps", "index")  # kinds whose facts may change
PASTED_NAME = "pasted text"
_FILES = {
    "prices": "File: a price list, receipt, workbook, or e-invoice as XML or PDF",
    "dishes": "File: a table, a saved recipe page, or recipes as text",
}
_TEXTS = {
    "prices": "Or paste a table or a receipt",
    "dishes": "Or paste a recipe or a table",
}
MOST_SHOWN = 100  # problems or series drawn as a table


def load_file(book: TheBook, *, kind: str = "prices", started: bool = True) -> None:
    """Draw the chooser, what the chosen file would add or what is wrong with it, and the button.

    `kind` is the kind chosen first; `started` is false for a book without anything to replace.
    """
    left, right = st.columns([2, 5])
    kind = left.selectbox(
        "What is in the file", KINDS, index=KINDS.index(kind), key=f"file_kind, first {kind}"
    )
    left.caption(columns_words(kind))
    if kind == "index":
        left.page_link(
            page("book"), label="Files of a statistics office: Official series",
            query_params={"part": "series"}, icon=ARROW,
        )  # fmt: skip
    turn = st.session_state.get("file_turn", 0)
    file = right.file_uploader(_FILES.get(kind, "File with a table"), type=READ, key=f"file {turn}")
    text = ""
    if kind in PASTED:
        text = right.text_area(
            _TEXTS[kind], key=f"pasted {kind} {turn}", height=100, placeholder="Paste it here"
        )
    replace = unusual = False
    if kind == "prices" and started:
        unusual = right.checkbox("Take unusually high or low prices as they are", key="unusual_all")
    elif kind in REPLACED and started:
        replace = right.checkbox("Let changed facts replace those of the book", key="replace")
    if file is not None:
        name, data = file.name, file.getvalue()
    elif text and text.strip():
        name, data = PASTED_NAME, text.encode()
    else:
        return
    offer(book, ChosenFile(kind=kind, name=name, data=data, replace=replace, unusual=unusual))


def offer(book: TheBook, file: ChosenFile) -> None:
    """Draw what a file would add, and a button that stores it; or every problem of it."""
    report = dry_run_of(book.state, file)
    remarks = [plain(remark_on_the_page(remark)) for remark in report.remarks]
    if report.form not in (None, "own"):
        remarks.insert(0, plain(form_words(report.form)))
    if remarks:
        st.info(remarks[0] if len(remarks) == 1 else "\n".join(f"- {each}" for each in remarks))
    if report.problems:
        _problems(file.name, report.problems)
        return
    already = f" {counted(report.already, 'row')} of it are in the book already."
    if report.added == 0 and not report.waiting:
        st.info(plain(f"Nothing to load from {file.name}.{already if report.already else ''}"))
        return
    st.info(
        plain(
            f"{file.name} can be loaded: {counted(report.added, 'row')} would be added."
            + (f" {_would_wait(report.waiting)}" if report.waiting else "")
            + (already if report.already else "")
            + " Nothing is stored yet."
        )
    )
    st.button(
        f"Load {counted(report.added, 'row')}"
        if report.added
        else "Let the lines wait in the Tray",
        type="primary",
        on_click=_load,
        args=(book, file),
        key=f"load {file.kind}",
    )
    if report.series:
        _series(file.name, report.series)


def _would_wait(lines: int) -> str:
    whose = "its" if lines == 1 else "their"
    return f"{wait_words(lines)}: {whose} words are not known yet; decide in the Tray."


def columns_words(kind: str) -> str:
    """Return the columns of a kind of file, as Markdown: the required ones bold."""
    names = [
        f"**{plain(column.name)}**" if column.required else plain(column.name)
        for column in TABLES[kind]
    ]
    return f"Columns, bold ones required: {', '.join(names)}."


def _series(name: str, series: Sequence[tuple[str, str | None]]) -> None:
    st.markdown(f"**{counted(len(series), 'series', 'series')} in it:**")
    shown = [(plain(title or "—"), plain(each)) for each, title in series[:MOST_SHOWN]]
    show_rows(
        pd.DataFrame(shown, columns=["Title", "Id"]),
        alt=f"Series in {name}",
    )  # fmt: skip
    if len(series) > MOST_SHOWN:
        st.caption(f"The first {MOST_SHOWN} of {len(series):,}.")


def _problems(name: str, problems: Sequence[Problem]) -> None:
    many = counted(len(problems), "problem")
    st.warning(plain(f"{name}: {many}; nothing was stored. Correct the file and load it again."))
    rows = problem_rows(problems)
    shown = rows.head(MOST_SHOWN).map(lambda cell: "" if pd.isna(cell) else plain(str(cell)))
    show_rows(shown, alt=f"Problems of {name}")
    if len(rows) > MOST_SHOWN:
        st.caption(f"The first {MOST_SHOWN} of {len(rows):,}.")
    st.download_button(
        "All problems as a file", rows.to_csv(index=False), f"problems of {name}", "text/csv",
        on_click="ignore",
    )  # fmt: skip


def _load(book: TheBook, file: ChosenFile) -> None:
    report = attempt(lambda: file.load_into(book.book, today=book.today), file.name)
    if report is None:
        return
    st.session_state["file_turn"] = st.session_state.get("file_turn", 0) + 1  # an empty chooser
    if report.series:  # the page of official series then shows the first of them
        st.session_state["series"] = report.series[0][0]
