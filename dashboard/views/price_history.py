"""How the price of an ingredient went, and what counts as its price today."""

from __future__ import annotations

import streamlit as st

from dashboard.charts.price_of_ingredient import price_chart
from dashboard.tables import prices as table
from dashboard.tables.pictures import course_words
from dashboard.views.book import TheBook
from dashboard.views.loaders import history_of, settings_of
from dashboard.views.outcome import take_back_row
from dashboard.views.picture import show_picture
from dashboard.words.evidence import evidence_words
from dashboard.words.figures import counted
from dashboard.words.markdown import plain
from dashboard.words.prices import series_words
from pricing.days import day_words
from pricing.measures.unit_price import shown_unit, unit_price_words
from pricing.money import show_money
from pricing.prices.history import PriceHistory

_ROWS, _REASON = "observations", "why it is taken back"


def show_history(book: TheBook, ingredient: str) -> None:
    """Draw the typical price today, the chart, and the observations."""
    history = history_of(book.state, ingredient)
    settings = settings_of(book.state)
    measures = settings.measures
    _today(history, measures, settings.food_series)
    if not history.observations:
        return
    _chart(history, measures, settings.fresh_days)
    st.subheader(counted(len(history.observations), "price") + " in the book", anchor=False)
    picked = st.session_state.get(_ROWS, {}).get("selection", {}).get("rows", [])
    _offer_to_take_back(history, picked)
    st.dataframe(
        table.observation_rows(history, measures),
        key=_ROWS,
        on_select="rerun",
        selection_mode="single-row",
        hide_index=True,
        column_config={
            "Seen on": st.column_config.DateColumn(format="D MMMM YYYY"),
            "Load": st.column_config.NumberColumn(
                help="The load that brought it; undo takes its number"
            ),
        },
        alt=f"Prices of {ingredient} in the book",
    )


def _offer_to_take_back(history: PriceHistory, picked: list[int]) -> None:
    """Draw what taking the picked price back would do, and the button."""
    if not picked or picked[0] >= len(history.observations):
        st.caption("Tick a price to take it back.")
        return
    seen = history.observations[picked[0]]
    what, why, button = st.columns([4, 3, 2], vertical_alignment="bottom")
    what.markdown(
        plain(
            f"{show_money(float(seen.price), seen.currency)} for {seen.pack}, "
            f"{seen.supplier or 'place not stated'}, {day_words(seen.observed_on)}"
        )
    )
    why.text_input("Why it is wrong", key=_REASON, placeholder="may stay empty")
    button.button("Take this price back", on_click=_take_back, args=(seen.row,))


def _take_back(row: int) -> None:
    take_back_row(row, st.session_state.get(_REASON) or "")
    st.session_state.pop(_REASON, None)


def _today(history: PriceHistory, measures: str, food_series: str | None) -> None:
    now = history.now
    large, words = st.columns([2, 5], vertical_alignment="center")
    large.metric(
        "Typical price today",
        plain(unit_price_words(now.unit_price, history.facts.base, history.currency, measures)),
    )
    evidence = evidence_words(now, history.market)
    words.markdown(plain(f"{evidence[:1].upper()}{evidence[1:]}."))
    words.markdown(plain(series_words(history, food_series)))


def _chart(history: PriceHistory, measures: str, fresh_days: int) -> None:
    seen = table.seen_frame(history, measures)
    if seen.empty:
        return
    typical = table.typical_frame(history, measures)
    official = table.official_frame(history, measures)
    unit = shown_unit(history.facts.base, measures)[0]
    show_picture(
        lambda dark: price_chart(
            seen, typical, official, currency=history.currency, unit=unit, dark=dark
        ),
        name=f"Price history of {history.facts.ingredient}",
        finds=course_words(typical, "price", f"Typical price {unit}"),
        data=typical,
        columns={"day": "On", "shown": "Typical price", "state": "Rests on"},
        key="history",
    )
    offers = " Hollow points are offers, which the typical price leaves out."
    st.caption(
        plain(
            "Points are prices seen. The typical price is the mean of what suppliers last asked: "
            f"what is older than {fresh_days} days is moved by the official series first, and the "
            f"older, the less it counts.{offers if seen['offer'].any() else ''}"
        )
    )
