"""The first room: what needs doing, and what moved since last month."""

from __future__ import annotations

from datetime import timedelta

import streamlit as st

from dashboard.views.address import Kept
from dashboard.views.book import TheBook
from dashboard.views.loaders import (
    catalogue_of,
    catalogue_swaps_of,
    checked_figures_of,
    dishes_of,
    drivers_of,
)
from dashboard.views.outcome import show_outcome
from dashboard.views.pages import ARROW, page
from dashboard.views.room import Room
from dashboard.views.sentences import sentences
from dashboard.views.start import next_step, show_start
from dashboard.words.figures import counted, signed_fine
from dashboard.words.markdown import ingredient_link, plain
from pricing.days import day_words
from pricing.printed.verdict import TOLERANCE_PCT

A_MONTH = timedelta(days=30)
MOVED = 5


def fields(book: TheBook) -> dict[str, Kept]:
    """Return no choices: the room is about today."""
    return {}


def show(book: TheBook) -> None:
    """Draw the room."""
    st.header("Today", anchor=False)
    show_outcome()
    if next_step(book) is not None:
        show_start(book)
    if not dishes_of(book.state):
        return
    doing, moved = st.columns([3, 2], gap="large")
    with doing, sentences():
        _doing(book)
    with moved, sentences():
        _moved(book)


def _doing(book: TheBook) -> None:
    st.subheader("What needs doing", anchor=False)
    figures = checked_figures_of(book.state, TOLERANCE_PCT, None)
    off = sum(each.now == "stale" or each.then == "differs" for each in figures.in_force)
    over = catalogue_swaps_of(book.state, book.on).over_target
    lacking = [dish for dish in catalogue_of(book.state) if not dish.complete]
    for many, what, room, query, verb in (
        (off, f"printed figures off by more than {TOLERANCE_PCT:g} %", "print", {}, "Check them"),
        (len(over), "dishes over their target", "dishes", {"part": "swaps"}, "Bring them down"),
        (len(lacking), "dishes with a line that has no price", "dishes", {"only_moved": "yes"},
         "Find the prices"),
    ):  # fmt: skip
        number, words, way = st.columns([1, 4, 3], vertical_alignment="center")
        number.markdown(f"### {many}")
        words.markdown(what)
        if many:
            way.page_link(page(room), label=verb, query_params=query, icon=ARROW)
        else:
            way.caption("nothing to do")


def _moved(book: TheBook) -> None:
    then = book.on - A_MONTH
    found = drivers_of(book.state, (), then, book.on)
    st.subheader(f"Since {day_words(then)}", anchor=False)
    ranked = sorted(found.ingredients, key=lambda each: -abs(each.price_effect))[:MOVED]
    for each in ranked:
        st.markdown(
            f"{ingredient_link(each.ingredient)}: "
            f"{plain(signed_fine(each.price_effect, found.currency))}"
        )
    st.caption(
        f"By price, in the mean cost of a portion over {counted(found.dishes, 'dish', 'dishes')}."
    )


ROOM = Room(show=show, fields=fields, dated=False)
