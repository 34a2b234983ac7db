"""What brings a dish back under its price: swaps, since when, and with what caution."""

from __future__ import annotations

from datetime import date

import pandas as pd
import streamlit as st

from dashboard.charts.fewest_swaps import fewest_swaps_chart
from dashboard.charts.swap_over_years import swap_over_years
from dashboard.tables.pictures import course_words
from dashboard.tables.swaps import evidence_rows, frontier_frame, history_frame, swap_rows
from dashboard.views import save_swaps
from dashboard.views.address import Kept, choice, number, one_word, some_of
from dashboard.views.book import TheBook
from dashboard.views.choices import target_input, version_on
from dashboard.views.how_much import INGREDIENT, show_how_much
from dashboard.views.loaders import ingredients_of, settings_of
from dashboard.views.picture import show_picture
from dashboard.views.rows_table import show_rows
from dashboard.views.swap_loaders import SwapsAsked, swap_history_of, swaps_of
from dashboard.views.till import show_till
from dashboard.words.allergens import LISTS
from dashboard.words.figures import figure
from dashboard.words.markdown import plain
from dashboard.words.swaps import since_words, target_words, unknown_words
from pricing.contents.choices import ListedDish
from pricing.money import show_money
from pricing.swaps.records import SwapChoice, Swaps
from pricing.swaps.swap import SwapName

FEWEST, LEAST = "fewest", "least"
CHOOSE_BY = {FEWEST: "the fewest changes", LEAST: "the least disturbance, as entered"}
WAYS = {"swaps": "Swaps", "amount": "How much of an ingredient", "till": "At the till"}

_ASKS = ("target", "keep", "choose", "swap", "way", INGREDIENT, save_swaps.MAKE)


def fields(book: TheBook, dish: ListedDish) -> dict[str, Kept]:
    """Return the target, what stays, how few is meant, and the swap that is looked at."""
    every = [each.ingredient for each in ingredients_of(book.state)]
    return {
        "target": number(version_on(dish, book.on).target, 0.0, 1e9),
        "keep": some_of(every),
        "choose": choice(list(CHOOSE_BY)),
        "swap": one_word(),
        "way": choice(list(WAYS)),
        INGREDIENT: one_word(),
        **save_swaps.fields(),
    }


def asked_for() -> bool:
    """Tell whether an address asks for something here, which then stands open."""
    return any(each in st.query_params for each in _ASKS)


def show(book: TheBook, dish: ListedDish, version: str | None) -> None:
    """Draw the swaps that bring a dish down, how much of an ingredient may go in, or a shop."""
    way = st.segmented_control(
        "Ways", list(WAYS), format_func=lambda each: WAYS[each], key="way", required=True,
        label_visibility="collapsed",
    )  # fmt: skip
    if way == "till":
        show_till(book, dish.dish, book.on, version)
    elif way == "amount":
        show_how_much(book, dish.dish, book.on, version)
    else:
        _one_dish(book, dish.dish, book.on, version)


def _one_dish(book: TheBook, dish: str, on: date, version: str | None) -> None:
    every = swaps_of(book.state, dish, on, version, SwapsAsked())
    found = swaps_of(book.state, dish, on, version, _asked(every))
    if found.target is not None:
        _target(found)
    if not found.swaps:
        st.info(
            "The book has no swap that works in this dish. Enter one under Dishes, Swaps, or "
            "load a swaps file.",
            icon=":material/info:",
        )
    else:
        st.markdown("**What each swap would save**")
        show_rows(swap_rows(found), alt=f"Swaps in {dish}")
        st.caption(
            "− saves, + costs more, per portion, each swap made alone. ± is how far off it "
            "typically is: prices were moved, or shops ask different ones. Since: without a break, "
            "day by day."
        )
        save_swaps.show_save_swaps(book, found, version)
        _one_swap(book, found, version)
    if found.elsewhere:
        st.caption(plain(f"Stated not to work in this dish: {', '.join(found.elsewhere)}."))
    names = f"Allergen names in brackets: {LISTS[found.allergen_list]}."
    st.caption(plain(f"{unknown_words(found)}{found.caution} {names}"))


def _asked(found: Swaps) -> SwapsAsked:
    """Draw the cost, and what is asked: a target, what stays, and what counts as few."""
    large, amount, stay = st.columns([2, 2, 4], vertical_alignment="bottom")
    large.metric(
        "Cost per portion",
        plain(figure(found.cost_per_portion, found.complete, found.currency)),
    )
    target = target_input(amount, "Target per portion", found.currency, "target")
    names = list(dict.fromkeys(sorted(each.ingredient for each in found.swaps)))
    keep = stay.multiselect("Keep as it is", names, key="keep", placeholder="nothing is locked")
    least = False
    if any(each.disturbance is not None for each in found.swaps):
        asked = st.radio(
            "Choose", list(CHOOSE_BY), format_func=lambda each: CHOOSE_BY[each], horizontal=True,
            key="choose",
        )  # fmt: skip
        least = asked == LEAST
    return SwapsAsked(target=target, keep=tuple(keep), least_disturbing=least)


def _target(found: Swaps) -> None:
    target = found.target
    assert target is not None
    with st.container(border=True):
        mark = "✓ within" if target.reached else "✗ not within"
        st.markdown(f"**{mark} {plain(show_money(target.amount, found.currency))} per portion**")
        for sentence in target_words(found):
            st.markdown(plain(sentence))
    if len(target.frontier) > 1:
        points, amount = frontier_frame(target, found.currency), target.amount
        show_picture(
            lambda dark: fewest_swaps_chart(
                points, currency=found.currency, target=amount,
                target_words=f"target {show_money(amount, found.currency)}", dark=dark,
            ),
            name=f"Lowest cost per portion of {found.dish} against the number of changes",
            finds=f"{points['said'].iloc[-1]}.",
            data=points,
            columns={"changes": "Changes", "shown": "Cost per portion", "swaps": "With"},
            key="frontier",
        )  # fmt: skip
        st.caption("The lowest cost of a portion with so many changes. Point at one for its swaps.")


def _one_swap(book: TheBook, found: Swaps, version: str | None) -> None:
    figures: dict[str, SwapChoice] = {}
    for each in found.swaps:
        if each.saving is not None:
            figures.setdefault(each.in_words(), each)
    if not figures:
        return
    st.markdown("**One swap over the years**")
    name = st.selectbox(
        "Swap", list(figures), index=None, key="swap",
        placeholder="Choose one to see what it would have saved",
    )  # fmt: skip
    if name is None:
        return
    swap = figures[name]
    history = history_frame(
        swap_history_of(book.state, found.dish, SwapName(**swap.named()), found.on, version)
    )
    since = swap.cheaper_since or swap.dearer_since
    if len(history) > 1:
        day = None if since is None else pd.Timestamp(since)
        show_picture(
            lambda dark: swap_over_years(
                history, currency=found.currency, since=day, since_words=since_words(swap),
                dark=dark,
            ),
            name=f"What {name} would have saved per portion over the years",
            finds=course_words(history, "saving", "The swap"),
            data=history,
            columns={"day": "Prices of", "shown": "The swap"},
            key="swap over the years",
        )  # fmt: skip
        st.caption(
            "The recipe as it is now, at the prices of each month's 15th. Before an ingredient was "
            "first seen, an official series moves its price back."
        )
    show_rows(
        evidence_rows(swap, found, settings_of(book.state).measures),
        alt="Both prices of the swap and what they rest on",
    )  # fmt: skip
