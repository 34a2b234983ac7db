"""The dashboard: its rooms over one price book. Run by `portiondrift serve`."""

from __future__ import annotations

import os
from collections.abc import Callable
from functools import partial
from pathlib import Path

import streamlit as st
from streamlit.navigation.page import StreamlitPage

from dashboard.views import book_room, dishes, ingredients, print_room, today_room
from dashboard.views.address import follow
from dashboard.views.bar import LOGGING, bar, whose_fields
from dashboard.views.book import State, book_state, one_look, the_book
from dashboard.views.pages import FIRST, FORMER, TITLES, address_of, page
from dashboard.views.sentences import sentences

_LOOKS = Path(__file__).with_name("views") / "page.css"
ROOMS = {
    "today": today_room.ROOM,
    "dishes": dishes.ROOM,
    "ingredients": ingredients.ROOM,
    "print": print_room.ROOM,
    "book": book_room.ROOM,
}


@st.fragment(run_every="5s")
def follow_the_book(state: State) -> None:
    """Show the page anew when the book has changed, or to try again what was refused.

    Only the file's date and size are looked at, so that nobody who writes to the book has to wait.
    """
    if st.session_state.pop("just_drawn", False):
        return  # this is the page's own run, not one of the looks that follow it
    if st.session_state.get(LOGGING):
        return  # a form that is being filled in is not taken from under one's hands
    if book_state(state[0]) != state or st.session_state.get("refused"):
        st.rerun()


def pages(first: str = FIRST) -> list[StreamlitPage]:
    """Return every page, as st.navigation takes them; `first` is the one at the bare address."""
    shown = [
        st.Page(_show(name), title=title, url_path=address_of(name), default=name == first)
        for name, title in TITLES.items()
    ]
    former = [
        st.Page(_lead(name), title=name, url_path=name, visibility="hidden") for name in FORMER
    ]
    return [*shown, *former]


def _show(name: str) -> Callable[[], None]:
    room = ROOMS[name]

    def show() -> None:
        with one_look(), sentences():
            follow(name, [partial(whose_fields, dated=room.dated), room.fields], room.pinned)
            book = the_book()  # of the day and the prices that the address asks for
            bar(book, dated=room.dated)
            room.show(book)

    return show


def _lead(name: str) -> Callable[[], None]:
    room, more = FORMER[name]

    def lead() -> None:
        asked = {key: st.query_params.get_all(key) for key in st.query_params}
        st.switch_page(page(room), query_params=asked | dict(more))

    return lead


def main(first: str = FIRST) -> None:
    """Draw the room that was asked for."""
    st.set_page_config(page_title="portiondrift", layout="wide")
    st.html(_LOOKS)
    chosen = st.navigation(pages(first), position="top")
    state = book_state(os.environ.get("PORTIONDRIFT_BOOK", ""))
    st.session_state["just_drawn"], st.session_state["refused"] = True, False
    chosen.run()
    follow_the_book(state)


if __name__ == "__main__":
    main()
