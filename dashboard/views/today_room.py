"""The first room: what needs doing, what moved since last month, how dishes keep up with food."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import timedelta

import pandas as pd
import streamlit as st

from dashboard.charts.inflation import inflation_chart
from dashboard.tables.inflation import level_frame
from dashboard.tables.pictures import levels_words
from dashboard.views.address import Kept
from dashboard.views.book import TheBook
from dashboard.views.loaders import (
    catalogue_of,
    checked_figures_of,
    dishes_of,
    drivers_of,
    inflation_of,
    ingredients_of,
    settings_of,
)
from dashboard.views.outcome import show_outcome
from dashboard.views.pages import ARROW, PART, page
from dashboard.views.picture import show_picture
from dashboard.views.room import Room
from dashboard.views.rows_table import show_rows
from dashboard.views.sentences import sentences
from dashboard.views.start import next_step, show_start
from dashboard.views.swap_loaders import over_target_of
from dashboard.views.tray_loaders import tray_of
from dashboard.words.figures import counted, signed_money
from dashboard.words.markdown import ingredient_link, plain, unbroken
from pricing.days import day_words, month_text, month_words

A_MONTH = timedelta(days=30)
MOVED = 5  # ingredients named
MANY = 100  # portions, so that small changes are whole cents
WORTH_SHARE = 0.01  # of the mean cost, from which an old price is worth a look
CHART_HEIGHT = 180


@dataclass(frozen=True, kw_only=True)
class _Task:
    """One thing to do: how many, of what, and where it is done."""

    many: int
    one: str  # what it is called when there is one
    more: str  # and when there are several
    verb: str
    room: str
    query: dict[str, str] = field(default_factory=dict)


def fields(book: TheBook) -> dict[str, Kept]:
    """Return no choices: the room is about today."""
    return {}


def show(book: TheBook) -> None:
    """Draw the room."""
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
    with sentences():
        _keeping_up(book)
    _parts()


def _doing(book: TheBook) -> None:
    st.subheader("What needs doing", anchor=False)
    tasks = _tasks(book)
    if not any(task.many for task in tasks):
        st.markdown("Nothing: every figure holds, every dish is within its target and has prices.")
        return
    for task in tasks:
        if task.many:
            what, way = st.columns([5, 3], vertical_alignment="center")
            what.markdown(f"**{task.many:,}** {task.one if task.many == 1 else task.more}")
            way.page_link(page(task.room), label=task.verb, query_params=task.query, icon=ARROW)


def _tasks(book: TheBook) -> list[_Task]:
    tolerance = settings_of(book.state).tolerance
    figures = checked_figures_of(book.state, tolerance, None).in_force
    wrong = sum(each.then == "differs" for each in figures)
    stale = sum(each.now == "stale" and each.then != "differs" for each in figures)
    over = len(over_target_of(book.state))
    lacking = sum(not dish.complete for dish in catalogue_of(book.state))
    waiting = sum(each.lines for each in tray_of(book.state))
    old = len(_worth_checking(book))
    off = f"off by more than {tolerance:g} %"
    return [
        _Task(many=waiting, one="line waits for a decision",
              more="lines wait for a decision", verb="Say what they are",
              room="book", query={PART: "tray"}),
        _Task(many=wrong, one=f"printed figure was {off} when costed",
              more=f"printed figures were {off} when costed", verb="Correct them",
              room="print"),
        _Task(many=stale, one=f"printed figure is {off} today",
              more=f"printed figures are {off} today", verb="Look at them",
              room="print"),
        _Task(many=over, one="dish costs more than its target",
              more="dishes cost more than their target", verb="Bring them down",
              room="dishes", query={PART: "swaps"}),
        _Task(many=lacking, one="dish has a line without a price",
              more="dishes have a line without a price", verb="Find the prices",
              room="dishes", query={"only_moved": "yes"}),
        _Task(many=old, one="price that matters is old",
              more="prices that matter are old", verb="Check them",
              room="print", query={PART: "round"}),
    ]  # fmt: skip


def _worth_checking(book: TheBook) -> list[str]:
    """Return the ingredients that cost something and were not seen for longer than is fresh."""
    costs = drivers_of(book.state, (), book.on, book.on).ingredients
    worth = {each.ingredient for each in costs if (each.share_now or 0.0) >= WORTH_SHARE}
    fresh = timedelta(days=settings_of(book.state).fresh_days)
    return [
        each.ingredient
        for each in ingredients_of(book.state)
        if each.ingredient in worth and each.last_on and book.on - each.last_on > fresh
    ]


def _moved(book: TheBook) -> None:
    then = book.on - A_MONTH
    found = drivers_of(book.state, (), then, book.on)
    st.subheader(f"Since {day_words(then)}", anchor=False)
    ranked = sorted(found.ingredients, key=lambda each: -abs(each.price_effect))
    rows = [
        {
            "By price": ingredient_link(each.ingredient),
            f"{MANY} portions": unbroken(signed_money(MANY * each.price_effect, found.currency)),
        }
        for each in ranked[:MOVED]
        if each.price_effect
    ]
    if not rows:
        st.markdown("No price moved the cost of a dish.")
        return
    show_rows(pd.DataFrame(rows), alt="What moved most")
    st.caption(
        plain(f"In the mean over {counted(found.dishes, 'dish', 'dishes')}, each as it is now.")
    )


def _keeping_up(book: TheBook) -> None:
    printed = [each.then_on for each in catalogue_of(book.state) if each.printed is not None]
    if not printed or month_text(min(printed)) >= month_text(book.on):
        return
    first = min(printed)
    found = inflation_of(book.state, (), month_text(first), month_text(book.on))
    if found.change_pct is None:
        return
    st.subheader("The average dish against official food prices", anchor=False)
    levels, base = level_frame(found), month_words(found.from_month)
    show_picture(
        lambda dark: inflation_chart(levels, base=base, dark=dark, height=CHART_HEIGHT),
        name="The kitchen's own index beside official food prices and all items",
        finds=levels_words(found),
        data=levels,
        columns={"month": "Month", "which": "Which", "shown": "Index"},
        key="keeping up",
    )


def _parts() -> None:
    """Draw the ways to the parts that tell more."""
    with st.container(horizontal=True):
        for label, part in (
            ("What moved the cost", "drivers"), ("Kitchen inflation", "inflation"),
        ):  # fmt: skip
            st.page_link(
                page("dishes"), label=label, query_params={PART: part}, icon=ARROW, width="content"
            )


ROOM = Room(show=show, fields=fields, dated=False)
