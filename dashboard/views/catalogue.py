"""All dishes: what was first printed, what each costs now, and how it got there."""

from __future__ import annotations

from typing import Any

import streamlit as st

from dashboard.tables import catalogue as table
from dashboard.views.address import Kept, choice, words, yes_or_no
from dashboard.views.book import TheBook
from dashboard.views.loaders import catalogue_of, settings_of, trends_of
from dashboard.views.pages import page
from dashboard.words.evidence import MOVED
from dashboard.words.figures import counted
from dashboard.words.markdown import plain
from pricing.change.overview import DishThenAndNow
from pricing.days import day_words, month_text

ROW_PIXELS = 66  # a long name takes two lines; the grid breaks lines only above 4 rem (64 pixels)
AT_LEAST = "≥ means at least: without what cannot be compared, which the dish names. "
MOST_ROWS = 30  # drawn without a scroll bar of the table's own


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
            + "Click a dish to open it."
        )
    )
    if not dishes:
        st.info("No dish passes these filters. Clear one of them.", icon=":material/info:")
        return
    start = min(dish.then_on for dish in every)
    rows = table.catalogue_rows(dishes, trends_of(book.state, month_text(start)), currency)
    clicked = st.dataframe(
        table.in_words(rows, dishes, currency),
        key="dishes",
        hide_index=True,
        row_height=ROW_PIXELS,
        height="content" if len(rows) <= MOST_ROWS else MOST_ROWS * ROW_PIXELS,
        placeholder="—",
        column_config=_columns(currency),
        on_select="rerun",
        selection_mode="single-cell",
        alt="Every dish then and now",
    )
    for row, _ in clicked["selection"]["cells"]:
        st.switch_page(page("dishes"), query_params={"dish": dishes[row].dish})


def _chosen(every: list[DishThenAndNow], currency: str) -> list[DishThenAndNow]:
    find, sort = st.columns([3, 2])
    text = find.text_input("Find a dish", type="search", live=True, key="find") or ""
    by = sort.selectbox("Sort by", list(table.SORTS), key="sort")
    with st.container(horizontal=True, gap="medium"):
        only_reworked = st.toggle("Only dishes whose recipe changed", key="only_reworked")
        only_moved = st.toggle(
            "Only where an official series moved a price, or one is missing", key="only_moved"
        )
        half_products = any(dish.half_product for dish in every) and st.toggle(
            "Half-products (only other dishes take them), too", key="half_products"
        )
    listed = [dish for dish in every if half_products or not dish.half_product]
    return table.chosen(
        listed, currency=currency, text=text, only_reworked=only_reworked, only_moved=only_moved,
        sort=by or "name",
    )  # fmt: skip


def _columns(currency: str) -> dict[str, Any]:
    money = f"Cost per portion, {currency}"
    number = st.column_config.NumberColumn
    return {
        table.DISH: st.column_config.TextColumn(width=164),
        table.PRINTED: number(width=64, help="The first printed figure, as printed"),
        table.DATE: st.column_config.DateColumn(
            format="MMM YYYY", width=80, help="The month in which it was first published"
        ),
        table.THEN: number(width=58, help=f"{money}: recomputed for the day it was first printed"),
        table.NOW: number(width=68, help=f"{money}, at today's prices and in today's version"),
        table.CHANGE: number(width=66, help="Now less then"),
        table.PERCENT: number(width=56, help="The change in % of the cost then"),
        table.RECIPE: number(
            width=76, help="How much of the change is the recipe; the rest is prices"
        ),
        table.TREND: st.column_config.LineChartColumn(
            width=66, y_min=0, help="Cost per portion since the earliest figure of the catalogue"
        ),
        table.MOVED: number(width=70, help=f"How much of the cost now rests on old prices {MOVED}"),
    }
