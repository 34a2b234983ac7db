"""The room of the book itself: files, what waits, official series, loads, settings."""

from __future__ import annotations

import streamlit as st

from dashboard.views import official_series, tray
from dashboard.views.address import Kept, choice, named
from dashboard.views.book import TheBook
from dashboard.views.load_file import load_file
from dashboard.views.loads import show_loads
from dashboard.views.outcome import show_outcome
from dashboard.views.pages import PART
from dashboard.views.room import Room, choose_part, open_part
from dashboard.views.sentences import sentences
from dashboard.views.settings import show_settings
from dashboard.views.start import next_step

PARTS = {
    "files": "Files",
    "tray": "Tray",
    "series": "Official series",
    "loads": "Loads",
    "settings": "Settings",
}


def fields(book: TheBook) -> dict[str, Kept]:
    """Return the choices of the part that is open."""
    part = named(PART) or open_part(PARTS)
    more = official_series.fields(book) if part == "series" else {}
    return {PART: choice(list(PARTS))} | more


def show(book: TheBook) -> None:
    """Draw the room."""
    st.header("Book", anchor=False)
    show_outcome()
    part = choose_part(PARTS)
    with sentences():
        if part == "tray":
            tray.show(book)
        elif part == "series":
            official_series.show(book)
        elif part == "loads":
            show_loads(book)
        elif part == "settings":
            show_settings(book)
        else:
            wanted = next_step(book)
            if wanted is not None:
                st.info(f"The book holds no {wanted} yet.", icon=":material/info:")
            load_file(book, started=wanted != "ingredients")


ROOM = Room(show=show, fields=fields, dated=False)
