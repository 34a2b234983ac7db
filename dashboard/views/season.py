"""The season: in which months of the year an ingredient or a dish is cheap."""

from __future__ import annotations

import calendar

import streamlit as st

from dashboard.charts.season import season_chart
from dashboard.tables.season import month_rows, part_rows
from dashboard.views.book import TheBook
from dashboard.views.loaders import season_of
from dashboard.views.picture import show_picture
from dashboard.views.rows_table import show_rows
from dashboard.words import season as words
from dashboard.words.figures import percent
from dashboard.words.markdown import plain
from pricing.season.season import Season


def show_season(book: TheBook, name: str, dish: bool = False) -> None:
    """Draw the pattern of an ingredient, or of a dish at today's prices."""
    _season(season_of(book.state, name, dish))


def _season(found: Season) -> None:
    shown = (
        ("Cheapest month", found.cheapest), ("Dearest month", found.dearest),
    )  # fmt: skip
    columns = st.columns(3)
    for column, (label, month) in zip(columns, shown, strict=False):
        change = words.against_year(found.relatives[month - 1])
        column.metric(label, f"{calendar.month_name[month]}", change, delta_color="off",
                      delta_arrow="off")  # fmt: skip
    columns[2].metric(
        "Pattern", words.strength_word(found.strength), percent(found.strength),
        delta_color="off", delta_arrow="off",
        help="The share of the swings about the trend that comes back at the same time of year. "
        "From 60 % it is called strong, from 30 % weak.",
    )  # fmt: skip
    st.markdown(plain(words.season_sentence(found)))
    months = month_rows(found)
    show_picture(
        lambda dark: season_chart(months, dark=dark),
        name=f"Season of {found.name}",
        finds=words.season_sentence(found),
        data=months,
        columns={"month": "Month", "shown": "Against the mean of the year"},
        key="season",
    )
    cheap = "The cheapest months are filled. " if words.cheap_months(found) else ""
    st.caption(plain(f"{cheap}{words.strength_words(found)} {words.rests_on(found)}"))
    if found.parts:
        st.markdown("**Ingredient by ingredient**")
        show_rows(
            part_rows(found),
        alt=f"The patterns behind the season of {found.name}",
        )  # fmt: skip
        st.caption(
            "Share: of the cost of the dish now. Swing: how much more the dearest month costs than "
            "the cheapest."
        )
