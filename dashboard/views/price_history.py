"""How the price of an ingredient went, and what counts as its price today."""

from __future__ import annotations

import pandas as pd
import streamlit as st

from dashboard import frames
from dashboard.charts.price_of_ingredient import price_chart
from dashboard.loaders import TheBook, history_of, settings_of
from dashboard.page_text import plain
from dashboard.rooms import ARROW, room
from dashboard.words import counted, evidence_words
from pricing.days import month_words
from pricing.measures.unit_price import shown_unit, unit_price_words
from pricing.prices.history import PriceHistory

MOST_SHOWN = 500  # observations in the table


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
        room("season"), label="Season: when it is cheap", icon=ARROW,
        query_params={"of": "ingredient", "ingredient": facts.ingredient},
    )  # fmt: skip
    if not history.observations:
        return
    seen = frames.seen_frame(history, measures)
    typical = frames.typical_frame(history, measures)
    if not seen.empty:
        st.altair_chart(
            price_chart(
                seen,
                typical,
                frames.official_frame(history, measures),
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


def series_words(history: PriceHistory) -> str:
    """Return which official series stands for the ingredient, and how it is drawn."""
    facts = history.facts
    if facts.series is None:
        return (
            "No official series is named for this ingredient, so an old price is held as it is. "
            "Name one in its ingredients file and load that again."
        )
    name = f"Its official series is {facts.series_title or facts.series} ({facts.series})"
    if not history.official:
        return f"{name}; it has no month in common with the prices seen."
    last = month_words(history.official[-1][0])
    return f"{name}, drawn up to {last} at the level that meets the prices seen best."


def observation_rows(history: PriceHistory, measures: str) -> pd.DataFrame:
    """Return the observations as a table, newest first."""
    return pd.DataFrame(
        [
            {
                "Seen on": seen.observed_on,
                "Paid": frames.pack_words(seen),
                "Unit price": unit_price_words(
                    seen.unit_price, history.facts.base, seen.currency, measures
                ),
                "Supplier": seen.supplier or "",
                "Kind": seen.kind,
                "More": "; ".join(filter(None, (seen.product, seen.region, seen.note))),
                "Batch": seen.batch,
            }
            for seen in history.observations[:MOST_SHOWN]
        ]
    )
