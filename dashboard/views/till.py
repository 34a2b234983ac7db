"""The part of a page that shops for dishes: whole packs at the till, and what is left over."""

from __future__ import annotations

from datetime import date

import streamlit as st

from dashboard.views.book import TheBook
from dashboard.views.loaders import dishes_of, suppliers_of
from dashboard.views.rows_table import show_rows
from dashboard.views.swap_loaders import till_of
from dashboard.words.markdown import ingredient_link, plain, unbroken
from dashboard.words.till import (
    HEADINGS,
    SHELF,
    dish_words,
    not_counted_words,
    shop_rows,
    total_words,
)
from pricing.days import day_words
from pricing.money import show_money
from pricing.till.records import Till

ANY_SHOP = "any shop"


def show_till(book: TheBook, dish: str, on: date, version: str | None = None) -> None:
    """Draw a shop that starts with one batch of `dish` (in `version`) at prices of `on`."""
    asked, supplier, pantry = _choices(book, dish)
    if not asked:
        st.info("Choose a dish to shop for.", icon=":material/info:")
        return
    named = dict(asked)
    label = (dish, version) if version is not None and dish in named else None
    found = till_of(book.state, asked, on, supplier, pantry, label)
    _totals(found)
    _table(found)
    for each in found.dishes:
        st.markdown(f"- {plain(dish_words(each, found.currency))}")
    apart = not_counted_words(found)
    if apart:
        st.markdown(plain(apart))
    st.caption(plain(f"Prices of {day_words(on)}. {SHELF}"))


def _choices(book: TheBook, dish: str) -> tuple[tuple[tuple[str, float], ...], str | None, bool]:
    """Draw the choices; return dishes with batches, the shop, and whether pantry counts."""
    names = [each.dish for each in dishes_of(book.state)]
    dishes = st.multiselect(
        "Dishes to shop for", names, default=[dish], key=f"shop from {dish}",
        placeholder="none yet",
    )  # fmt: skip
    many = st.columns(4)
    asked = tuple(
        (
            name,
            many[place % 4].number_input(
                f"Batches of {plain(name)}", min_value=0.25, max_value=1000.0, value=1.0, step=1.0,
                format="%g", key=f"batches of {name}",
            ),
        )
        for place, name in enumerate(dishes)
    )  # fmt: skip
    where, cupboard = st.columns([2, 3], vertical_alignment="bottom")
    shop = where.selectbox("Buy at", [ANY_SHOP, *suppliers_of(book.state)], key="shop")
    pantry = cupboard.toggle("Buy for store-cupboard lines, too", value=True, key="shop pantry")
    return asked, None if shop == ANY_SHOP else shop, pantry


def _totals(found: Till) -> None:
    till, plate, left = st.columns(3)
    till.metric("At the till", plain(found.display["cost"]))
    plate.metric("On the plate", plain(found.display["plate_cost"]))
    left.metric("Left over", plain(show_money(found.left_over_value, found.currency)))
    for sentence in total_words(found):
        st.markdown(plain(sentence))
    if not found.complete:
        st.markdown(
            plain(f"At least, because no pack was found of: {', '.join(found.without_pack)}.")
        )


def _table(found: Till) -> None:
    if not found.ingredients:
        return
    rows = []
    names = iter(found.ingredients)
    for row in shop_rows(found):
        cells = [unbroken(each) for each in row.cells()]
        if row.ingredient:
            name = next(names).ingredient
            cells[0] = ingredient_link(name) + plain(row.ingredient[len(name) :])
        cells[-1] = plain(row.evidence)
        rows.append(dict(zip(HEADINGS, cells, strict=True)))
    show_rows(rows, alt="What to buy for the chosen dishes")
