"""Loads a file of a statistics office, or of dates and values, after a look at what is in it."""

from __future__ import annotations

import streamlit as st

from dashboard.views.book import TheBook
from dashboard.views.chosen_file import ChosenFile
from dashboard.views.load_file import offer
from dashboard.words.markdown import plain
from ingest.load import says_which

_TYPES = ("csv", "json", "txt", "tsv", "zip", "gz")
OWN = "own:"  # before the id of a series that no known office publishes


def load_series(book: TheBook) -> None:
    """Draw the chooser, what the file says it is, what it would add or what is wrong with it."""
    left, right = st.columns([2, 5])
    turn = st.session_state.get("file_turn", 0)
    file = right.file_uploader("File of official series", type=_TYPES, key=f"series file {turn}")
    left.markdown(
        "Take the file as the office publishes it. These are known: SDMX-CSV and JSON-stat "
        "(Eurostat, OECD, IMF, Australia, Ireland and others), the UK's single series and MM23, "
        "Statistics Canada, the US BLS, and plain `date,value`."
    )
    left.caption(
        "Or this program's own columns: series, month, value. Too large to send? "
        "`portiondrift index load FILE` takes it from the disk."
    )
    if file is None:
        return
    data = file.getvalue()
    if says_which(file.name, data):
        only = right.text_input("Only these series, with commas between them", key="only_series")
        replace = right.checkbox(
            "Let changed facts replace those of the book", key="replace_series"
        )
        names = tuple(filter(None, (name.strip() for name in (only or "").split(","))))
        offer(
            book,
            ChosenFile(kind="index", name=file.name, data=data, replace=replace, series=names),
        )
        return
    right.info(
        plain(
            f"{file.name} holds dates and values alone. Say which series it is: a title, and a "
            "short id by which your ingredients name it."
        ),
        icon=":material/info:",
    )
    title = (right.text_input("Title, and whose it is", key="series_title") or "").strip()
    name = (right.text_input("Short id of your choice", key="series_id") or "").strip()
    if title and name:
        series = name if ":" in name else f"{OWN}{name}"
        offer(
            book,
            ChosenFile(kind="index", name=file.name, data=data, series=(series,), title=title),
        )
