"""How the price of an ingredient went, and what counts as its price today."""

from __future__ import annotations

import streamlit as st

from dashboard.charts.price_of_ingredient import price_chart
from dashboard.tables import prices as table
from dashboard.tables.prices import observation_rows
from dashboard.views.loaders import TheBook, history_of, settings_of
from dashboard.views.pages import ARROW, page
from dashboard.words.evidence import evidence_words
from dashboard.words.figures import counted
from dashboard.words.markdown import plain
from dashboard.words.prices import series_words
from pricing.measures.unit_price import shown_unit, unit_price_words


def show_history(book: TheBook, ingredient: str) -> None:
    """Draw the typical price today, the chart, and the observations."""
    history = history_of(book.state, ingredient)
    measures = settings_of(book.state).measures
    facts, now = history.facts, history.now
    large, words = st.columns([2, 5], vertical_alignment="center")
    large.metric(
        "Typical price today",
        plain(unit_price_words(now.unit_price, facts.base, history.currency, measures)),
    )
    evidence = evidence_words(now)
    words.markdown(plain(f"{evidence[:1].upper()}{evidence[1:]}."))
    words.markdown(plain(series_words(history)))
    st.page_link(
        page("season"), label="Season: when it is cheap", icon=ARROW,
        query_params={"of": "ingredient", "ingredient": facts.ingredient},
    )  # fmt: skip
    if not history.observations:
        return
    seen = table.seen_frame(history, measures)
    typical = table.typical_frame(history, measures)
    if not seen.empty:
        st.altair_chart(
            price_chart(
                seen,
                typical,
                table.official_frame(history, measures),
                currency=history.currency,
                unit=shown_unit(facts.base, measures)[0],
                dark=st.context.theme.type == "dark",
            ),
            alt=f"Price history of {facts.ingredient}",
            key="history",
        )
        hollow = (
            " Hollow points are offers, which the typical price leaves out."
            if (seen["offer"].any())
            else ""
        )
        st.caption(
            plain(
                "Points are prices seen. The typical price is the middle one of the suppliers seen "
                f"within {settings_of(book.state).fresh_days} days.{hollow}"
            )
        )
    st.subheader(counted(len(history.observations), "price") + " in the book", anchor=False)
    st.dataframe(
        observation_rows(history, measures),
        hide_index=True,
        column_config={
            "Seen on": st.column_config.DateColumn(format="D MMMM YYYY"),
            "Batch": st.column_config.NumberColumn(help="The load that brought it"),
        },
        alt=f"Prices of {facts.ingredient} in the book",
    )
