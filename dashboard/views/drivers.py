"""What moved the cost: which ingredients moved the cost of the catalogue, and what if one moves."""

from __future__ import annotations

from datetime import timedelta

import streamlit as st

from dashboard.charts.drivers import drivers_chart
from dashboard.tables.drivers import driver_parts, driver_rows
from dashboard.tables.pictures import largest_words
from dashboard.views.address import Kept, day, some_of
from dashboard.views.book import TheBook
from dashboard.views.choices import EARLIEST, day_input
from dashboard.views.loaders import dishes_of, drivers_of, swings_of
from dashboard.views.picture import show_picture
from dashboard.views.rows_table import show_rows
from dashboard.views.sentences import sentences
from dashboard.words.drivers import left_out_of_words, pack_sentence, shown_means
from dashboard.words.figures import counted, signed_money
from dashboard.words.markdown import plain
from pricing.change.drivers import Drivers
from pricing.days import day_words, month_text
from pricing.money import show_money

A_YEAR = timedelta(days=365)


def fields(book: TheBook) -> dict[str, Kept]:
    """Return the day of then, and the dishes."""
    names = [dish.dish for dish in dishes_of(book.state)]
    return {"then": day(book.on - A_YEAR, EARLIEST, book.on), "of": some_of(names)}


def show(book: TheBook) -> None:
    """Draw what moved the cost between then and the day in the bar."""
    names = [dish.dish for dish in dishes_of(book.state)]
    start, which = st.columns([1, 3])
    with start:
        then = day_input("From prices of", "then", book.on)
    dishes = tuple(which.multiselect("Dishes", names, key="of", placeholder="all of them"))
    with sentences():
        _ranked(book, drivers_of(book.state, dishes, then, book.on))


def _ranked(book: TheBook, found: Drivers) -> None:
    _figures(found)
    if not found.ingredients:
        st.info("No ingredient is in these dishes on either day. Choose other days or dishes.")
        return
    parts = driver_parts(found)
    show_picture(
        lambda dark: drivers_chart(parts, currency=found.currency, dark=dark),
        name="Drivers - what each ingredient added to the mean cost per portion",
        finds=largest_words(parts),
        data=parts,
        columns={"ingredient": "Ingredient", "part": "By", "shown": "Per portion"},
        key="drivers",
    )
    st.caption(
        "Solid bars are prices, striped bars recipes: what each added to the mean cost per portion "
        "over the dishes."
    )
    _packs(found)
    start, end = sorted((found.then, found.now))
    swings = swings_of(
        book.state,
        tuple(each.ingredient for each in found.ingredients),
        month_text(start),
        month_text(end),
    )
    st.subheader("Ingredient by ingredient", anchor=False)
    show_rows(
        driver_rows(found, swings),
        alt="Ingredients by what they added to the mean cost",
    )  # fmt: skip
    st.caption(
        "Share now: of the mean cost. Price: how the unit price changed; official: how its "
        "official series did, the narrowest that reaches both months. Swing: the standard "
        "deviation of its changes from month to month. "
        "Estimated: the share of months in which an official series stands in for a price seen."
    )
    _left_out(found)


def _left_out(found: Drivers) -> None:
    said = left_out_of_words(found)
    if found.incomplete_dishes:
        said.append(f"Not complete, for that: {', '.join(found.incomplete_dishes)}.")
    if said:
        st.warning("\n".join(f"- {plain(each)}" for each in said))


def _figures(found: Drivers) -> None:
    money, means = found.currency, shown_means(found)
    shown = (
        ("Mean cost then", show_money(means.then, money)),
        ("Mean cost now", show_money(means.now, money)),
        ("By prices", signed_money(means.by_price, money)),
        ("By recipes", signed_money(means.by_recipe, money)),
    )
    for column, (label, amount) in zip(st.columns(len(shown)), shown, strict=True):
        column.metric(label, plain(amount))
    st.caption(
        plain(
            f"Per portion, the mean over {counted(found.dishes, 'dish', 'dishes')}, each in the "
            f"version in force on {day_words(found.then)} and on {day_words(found.now)}."
        )
    )


def _packs(found: Drivers) -> None:
    changed = [pack for each in found.ingredients for pack in each.packs_changed]
    if not changed:
        return
    st.subheader("Packs that changed", anchor=False)
    for pack in changed:
        st.markdown(f"- {plain(pack_sentence(pack, found.currency))}")
