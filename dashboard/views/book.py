"""The book of the pages, and what tells one state of it from another: what is kept hangs on it."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TypedDict

import streamlit as st

from pricing.book.connect import Book, looking
from pricing.clock import today
from pricing.errors import BookUnreadable

WAIT_SECONDS = 5.0  # for another program to let go of the book, before a page says so

# What is kept is kept for one state of the book (its file, the instant and the size of its last
# change, the day whose prices are asked for) and for those whose prices count (a market, or None
# for the book's own, and suppliers left out); last stands today. A changed book, or a new day, has
# nothing kept. No connection is ever kept.
State = tuple[str, int, int, str, str | None, tuple[str, ...], str]
MARKET, WITHOUT = "market", "without"  # keys of the choice of whose prices count
ON = "on"  # key of the day whose prices are asked for
# Each question has a place of its own, so that many answers to one (a dish on a date) never put
# out those to another (the catalogue). A place holds few answers about the whole book, which are
# large, and many about one thing in it. What is `shared` is handed out as it is, not as a copy for
# each asker: only for what nobody can change.
kept_of_book = st.cache_data(max_entries=8, show_spinner=False)
kept = st.cache_data(max_entries=300, show_spinner=False)
shared = st.cache_resource(max_entries=60, show_spinner=False)
shared_of_book = st.cache_resource(max_entries=8, show_spinner=False)


class Whose(TypedDict):
    """Whose prices count, as the functions of `pricing` take it."""

    market: str | None  # None: the one that the book has set
    not_supplier: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class TheBook:
    """The book of the pages, as it stood when this run of the page began."""

    book: Book
    state: State

    @property
    def on(self) -> date:
        """The day whose prices are asked for: today, unless another was chosen in the bar."""
        return day_of(self.state)

    @property
    def today(self) -> date:
        """Today, as it was when this run began."""
        return today_of(self.state)


@contextmanager
def one_look() -> Iterator[None]:
    """Open the book once for all that a run of the page, or of a fragment (`@one_look()`), asks.

    It is closed when the run ends, so that other programs may write to it between two runs; a write
    of the page itself closes it first.
    """
    with looking():
        yield


def the_book() -> TheBook:
    """Return the book named by PORTIONDRIFT_BOOK. Raises BookUnreadable when none is named."""
    named = os.environ.get("PORTIONDRIFT_BOOK")
    if not named:
        raise BookUnreadable(
            "Found no price book named; expected one in PORTIONDRIFT_BOOK. Start the pages with "
            "`portiondrift serve`, which names it."
        )
    state = book_state(named)
    return TheBook(book=book_of(state), state=state)


def book_state(path: str) -> State:
    """Return what tells one state of a book from another; zeros when there is no file."""
    market = st.session_state.get(MARKET)
    without = tuple(st.session_state.get(WITHOUT, ()))
    now = today()
    on = min(st.session_state.get(ON) or now, now).isoformat()
    try:
        file = os.stat(path)
    except OSError:
        return (path, 0, 0, on, market, without, now.isoformat())
    return (path, file.st_mtime_ns, file.st_size, on, market, without, now.isoformat())


def whose(state: State) -> Whose:
    """Return whose prices were chosen to count."""
    return {"market": state[4], "not_supplier": state[5]}


def book_of(state: State) -> Book:
    """Return the book to read, in the state that is asked for."""
    wait = float(os.environ.get("PORTIONDRIFT_WAIT_SECONDS", WAIT_SECONDS))
    return Book(path=Path(state[0]), wait_seconds=wait)


def day_of(state: State) -> date:
    """Return the day whose prices are asked for."""
    return date.fromisoformat(state[3])


def today_of(state: State) -> date:
    """Return the day that was today."""
    return date.fromisoformat(state[6])
