"""The page of one dish: its figure on a date, how it drifted, and the evidence line by line."""

from __future__ import annotations

import pandas as pd
import streamlit as st

from dashboard.charts.drift_of_dish import drift_chart
from dashboard.tables import dish as table
from dashboard.views.book import TheBook, the_book
from dashboard.views.choices import dish_day_version, first_day, start_here, why_links
from dashboard.views.loaders import (
    change_of,
    cost_of,
    dishes_of,
    drift_of,
    printed_of,
    rebased_of,
    settings_of,
)
from dashboard.views.pages import ARROW, page
from dashboard.views.sentences import sentences
from dashboard.views.theme import dark
from dashboard.words.allergens import changed_allergens_words, dish_allergens_words
from dashboard.words.dish import LOCAL_LAW, band_span, change_words, figure_words, gaps, work_words
from dashboard.words.evidence import band_words
from dashboard.words.markdown import plain
from dashboard.words.waiting import waiting_name
from pricing.contents.choices import ListedDish
from pricing.contents.printed import PrintedFigure
from pricing.days import day_words, month_text
from pricing.dishes.cost import DishCost
from pricing.names import waiting_words
from pricing.swaps.records import CAUTION


def show() -> None:
    """Draw the page."""
    book = the_book()
    dishes = {dish.dish: dish for dish in dishes_of(book.state)}
    if not dishes:
        st.header("Dish", anchor=False)
        start_here("dishes")
        return
    dish, on, version = dish_day_version(book, dishes)
    st.header(dish.dish, anchor=False)
    cost = cost_of(book.state, dish.dish, on, version)
    figures = printed_of(book.state, dish.dish)
    _figure(book, dish, cost, figures, version)
    why_links(dish.dish)
    _gaps(cost)
    _drift(book, dish, figures, version)
    _lines(book, cost)
    st.caption(f"{CAUTION} {LOCAL_LAW}")


def _figure(
    book: TheBook,
    dish: ListedDish,
    cost: DishCost,
    figures: list[PrintedFigure],
    version: str | None,
) -> None:
    large, words = st.columns([2, 5], vertical_alignment="center")
    large.metric(
        "Cost per portion",
        plain(cost.display["cost_per_portion"]),
    )
    if span := band_span(cost):
        large.caption(plain(span))
    with words:
        st.markdown(plain(figure_words(cost)))
        if cost.band is not None:
            said = band_words(cost.band, cost.currency, complete=cost.complete)
            st.markdown(plain(said))
        if work := work_words(cost):
            st.markdown(plain(work))
        st.markdown(plain(dish_allergens_words(cost.allergens)))
        printed = figures[0] if figures else None
        then = first_day(book, dish)
        if then[0] >= cost.on:
            return
        with sentences():
            found = change_of(book.state, dish.dish, then, (cost.on, version or cost.version))
            st.markdown(plain(change_words(found, printed)))
            st.markdown(plain(changed_allergens_words(found.allergens)))


def _gaps(cost: DishCost) -> None:
    missing = gaps(cost)
    if not missing:
        return
    with st.container(border=True):
        st.markdown("**At least, because these lines have no price:**")
        for ingredient, reason in missing.items():
            if waiting_words(ingredient) is not None:
                st.markdown(f"- {plain(waiting_name(ingredient))}")
                st.page_link(page("tray"), label="Decide what it is, in the Tray", icon=ARROW)
                continue
            st.markdown(f"- {plain(f'{ingredient}: {reason}')}")
            st.page_link(
                page("prices"),
                label=f"Log a price of {plain(ingredient)}",
                query_params={"ingredient": ingredient},
                icon=ARROW,
            )


def _drift(
    book: TheBook, dish: ListedDish, figures: list[PrintedFigure], version: str | None
) -> None:
    currency = settings_of(book.state).currency
    first = min([dish.versions[0].effective_from, *(figure.costed_on for figure in figures)])
    st.subheader("Cost per portion over the years", anchor=False)
    years = (first.year, book.on.year)
    if years[0] < years[1]:
        years = st.slider("Years", *years, value=years, key=f"years of {dish.dish}")
    points = drift_of(book.state, dish.dish, month_text(min(first, book.on)), version)
    printed = table.printed_frame(figures, currency, book.on)
    rebased = _rebased(book, figures, currency)
    points, printed, rebased = (
        each[each["on"].dt.year.between(*years)] for each in (points, printed, rebased)
    )
    if points.empty:
        st.info("No 15th of a month in these years to cost. Widen the years.")
        return
    start, end = points["on"].iloc[0].date(), points["on"].iloc[-1].date()
    marks = table.versions_frame([] if version else dish.versions, start, end)
    st.altair_chart(
        drift_chart(
            points, printed, rebased, marks, currency=currency,
            dark=dark(),
        ),
        alt=f"Drift chart of {dish.dish}: cost per portion over the years",
        key="drift",
    )  # fmt: skip
    costed = f"in version {version} throughout" if version else "in the version of its day"
    st.caption(
        plain(
            f"Each month is costed on its 15th, {costed}. {table.rebased_words(rebased)} "
            "Diamonds are figures as printed. Point at the line for a month's figure and evidence."
        )
    )


def _rebased(book: TheBook, figures: list[PrintedFigure], currency: str) -> pd.DataFrame:
    if not figures or figures[0].currency != currency:
        return table.rebased_frame((), currency)
    first = figures[0]
    return rebased_of(book.state, first.cost_per_portion, first.costed_on)


def _lines(book: TheBook, cost: DishCost) -> None:
    st.subheader(f"Lines at prices of {day_words(cost.on)}", anchor=False)
    unfold = any(line.lines for line in cost.lines) and st.toggle(
        "Show the lines inside sub-recipes", value=True, key="unfold"
    )
    measures = settings_of(book.state).measures
    st.table(
        table.line_rows(cost, measures, unfold=unfold),
        hide_index=True,
        border="horizontal",
        alt=f"Costed lines of {cost.dish}",
    )
