"""The section of a dish that looks ahead: ranges of its later cost, and what they rest on."""

from __future__ import annotations

from datetime import date, timedelta

import streamlit as st

from dashboard.tables.outlook import SHORT, series_rows
from dashboard.views.address import Kept, choice, day, number, whole_number
from dashboard.views.book import TheBook
from dashboard.views.choices import EARLIEST, target_input, version_on
from dashboard.views.loaders import settings_of
from dashboard.views.outlook_loaders import USUAL_MONTHS, AheadAsked, outlook_of
from dashboard.views.rows_table import show_rows
from dashboard.words.markdown import plain
from dashboard.words.outlook import (
    CAUTION,
    learned_sentence,
    outlook_heading,
    ranges_sentences,
)
from pricing.ahead.asked import MOST_MONTHS
from pricing.ahead.records import Outlook
from pricing.contents.choices import ListedDish

UNTIL, MONTHS, OUT_ON, WITHIN = "until", "months", "out_on", "within"
BY_MONTHS, BY_DAY = "months", "day"
WAYS = {BY_MONTHS: "Months ahead", BY_DAY: "A date"}
_USUAL_DAYS = timedelta(days=122)  # four months
_LATEST = date(2100, 1, 1)  # a date that is too far ahead is refused in words


def fields(book: TheBook, dish: ListedDish) -> dict[str, Kept]:
    """Return for which day it is, and which target is meant."""
    return {
        UNTIL: choice(list(WAYS)),
        MONTHS: whole_number(USUAL_MONTHS, 1, MOST_MONTHS),
        OUT_ON: day(book.today + _USUAL_DAYS, EARLIEST, _LATEST),
        WITHIN: number(version_on(dish, book.on).target, 0.0, 1e9),
    }


def show_outlook(book: TheBook, dish: str, version: str | None) -> None:
    """Draw the choices, the ranges, and the series that carry them."""
    _show(book, outlook_of(book.state, dish, _asked(book, version)))


def _asked(book: TheBook, version: str | None) -> AheadAsked:
    how, when, limit, _ = st.columns([3, 2, 2, 2], vertical_alignment="bottom")
    until = how.segmented_control(
        "Until", list(WAYS), format_func=lambda each: WAYS[each], key=UNTIL, required=True,
    )  # fmt: skip
    months, on = None, None
    if until == BY_DAY:
        on = when.date_input(
            "Out on", min_value=EARLIEST, max_value=_LATEST, format="YYYY-MM-DD", key=OUT_ON
        )
    else:
        months = when.number_input("Months", min_value=1, max_value=MOST_MONTHS, step=1, key=MONTHS)
    currency = settings_of(book.state).currency
    target = target_input(limit, "Stay within", currency, WITHIN)
    return AheadAsked(months=months, on=on, version=version, target=target)


def _show(book: TheBook, found: Outlook) -> None:
    st.markdown(plain(f"{outlook_heading(found)}."))
    for sentence in ranges_sentences(found):
        st.markdown(f"**{plain(sentence)}**")
    other = (
        " It starts from today's prices, not from those of the day in the bar."
        if book.on != book.today
        else ""
    )
    st.caption(plain(f"{CAUTION} {learned_sentence(found)}{other}"))
    rows = series_rows(found)
    show_rows(rows, alt=f"The official series that carry the outlook of {found.dish}")
    short = (
        f" {SHORT}: the wider series for the past months that it lacks, and for how many of the "
        "changes looked at."
    )
    st.caption(f"Share: of the cost today.{short if SHORT in rows else ''}")
