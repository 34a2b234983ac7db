"""All dishes: what was first printed, what each costs now, and how it got there."""

from __future__ import annotations

import streamlit as st

from dashboard.tables import catalogue as table
from dashboard.views.address import Kept, choice, words, yes_or_no
from dashboard.views.book import TheBook
from dashboard.views.loaders import catalogue_of, settings_of, trends_of
from dashboard.views.rows_table import show_rows
from dashboard.words.evidence import MOVED
from dashboard.words.figures import counted
from dashboard.words.markdown import plain
from pricing.change.overview import DishThenAndNow
from pricing.days import day_words, month_text

AT_LEAST = "≥ means at least: without what cannot be compared, which the dish names. "


def fields(book: TheBook) -> dict[str, Kept]:
    """Return the filters."""
    return {
        "find": words(),
        "sort": choice(list(table.SORTS)),
        "only_reworked": yes_or_no(),
        "only_moved": yes_or_no(),
        "half_products": yes_or_no(),
    }


def show(book: TheBook) -> None:
    """Draw the list."""
    every = catalogue_of(book.state)
    currency = settings_of(book.state).currency
    dishes = _chosen(every, currency)
    st.caption(
        plain(
            f"{counted(len(dishes), 'dish', 'dishes')} of {len(every):,}. Cost per portion, at "
            f"prices of {day_words(book.on)}. Then: the day of the first printed figure, else the "
            "day the first version came into force. "
            + ("" if all(dish.complete for dish in dishes) else AT_LEAST)
            + "A name leads to the dish."
        )
    )
    if not dishes:
        st.info("No dish passes these filters. Clear one of them.", icon=":material/info:")
        return
    start = min(dish.then_on for dish in every)
    rows = table.catalogue_rows(dishes, trends_of(book.state, month_text(start)), currency)
    show_rows(
        table.in_words(rows, dishes, currency),
        alt="Every dish then and now",
        figure=table.NOW,
        meant=_meant(currency),
    )


def _chosen(every: list[DishThenAndNow], currency: str) -> list[DishThenAndNow]:
    find, sort = st.columns([3, 2])
    text = find.text_input("Find a dish", type="search", live=True, key="find") or ""
    by = sort.selectbox("Sort by", list(table.SORTS), key="sort")
    with st.container(horizontal=True, gap="medium"):
        only_reworked = st.toggle("Only dishes whose recipe changed", key="only_reworked")
        only_moved = st.toggle("Only with an estimated or missing price", key="only_moved")
        half_products = any(dish.half_product for dish in every) and st.toggle(
            "Half-products (only other dishes take them), too", key="half_products"
        )
    listed = [dish for dish in every if half_products or not dish.half_product]
    return table.chosen(
        listed, currency=currency, text=text, only_reworked=only_reworked, only_moved=only_moved,
        sort=by or "name",
    )  # fmt: skip


def _meant(currency: str) -> dict[str, str]:
    money = f"Cost per portion, {currency}"
    return {
        table.PRINTED: "The first printed figure, as printed",
        table.DATE: "The month in which it was first published",
        table.THEN: f"{money}: recomputed for the day it was first printed",
        table.NOW: f"{money}, at today's prices and in today's version",
        table.CHANGE: "Now less then",
        table.PERCENT: "The change in % of the cost then",
        table.RECIPE: "How much of the change is the recipe; the rest is prices",
        table.TREND: "Cost per portion since the earliest figure of the catalogue",
        table.MOVED: f"How much of the cost now rests on prices {MOVED}",
    }
