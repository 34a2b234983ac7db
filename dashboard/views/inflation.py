"""The kitchen's own inflation, beside what official series say."""

from __future__ import annotations

import streamlit as st

from dashboard.charts.inflation import inflation_chart
from dashboard.tables import inflation as table
from dashboard.tables.pictures import levels_words
from dashboard.views.address import Kept, day, some_of
from dashboard.views.book import TheBook
from dashboard.views.choices import EARLIEST, day_input, earliest_day
from dashboard.views.loaders import dishes_of, inflation_of
from dashboard.views.picture import show_picture
from dashboard.views.rows_table import show_rows
from dashboard.words.figures import counted, half_products_words, signed_rate
from dashboard.words.inflation import (
    ESTIMATED,
    NO_INDEX,
    left_out_sentence,
    level_words,
    not_worked_out,
    official_end,
    settled_markets,
)
from dashboard.words.markdown import dish_link, plain
from pricing.days import month_text, month_words
from pricing.inflation.records import Inflation
from pricing.money import show_money


def fields(book: TheBook) -> dict[str, Kept]:
    """Return the first month, and the dishes."""
    known = {dish.dish: dish for dish in dishes_of(book.state)}
    earliest = earliest_day(book, known.values())
    return {"then": day(earliest, EARLIEST, book.on), "of": some_of(list(known))}


def show(book: TheBook) -> None:
    """Draw the kitchen's index from a month to that of the day in the bar."""
    known = [dish.dish for dish in dishes_of(book.state)]
    first, which = st.columns([1, 3])
    with first:
        start = day_input("From the month of", "then", book.on)
    dishes = which.multiselect("Dishes", known, key="of", placeholder="all of them")
    end = book.on
    found = inflation_of(book.state, tuple(dishes), month_text(start), month_text(end))
    for remark in found.remarks:
        st.caption(plain(remark))
    if found.change_pct is None:
        st.info(plain(NO_INDEX), icon=":material/info:")
    else:
        _index(found)
    if found.half_products:
        st.caption(plain(half_products_words(found.half_products)))
    if found.left_out:
        st.warning(plain(left_out_sentence(found)))


def _index(found: Inflation) -> None:
    _figures(found)
    levels = table.level_frame(found)
    show_picture(
        lambda dark: inflation_chart(levels, base=month_words(found.from_month), dark=dark),
        name="The kitchen's own index beside official food prices and all items",
        finds=levels_words(found),
        data=levels,
        columns={"month": "Month", "which": "Which", "shown": "Index", "state": "Rests on"},
        key="inflation",
    )
    st.caption(ESTIMATED)
    if missing := table.missing_series(found):
        st.info(
            plain(
                f"No official series of {' and '.join(missing)} to lay beside it. Name one that "
                "covers these months with `portiondrift setting`."
            )
        )
    for sentence in (official_end(found), not_worked_out(found), settled_markets(found)):
        if sentence:
            st.caption(plain(sentence))
    with st.expander("Worked out in other ways"):
        show_rows(table.formula_rows(found), alt="Formulas")
    rates = table.rate_rows(found)
    if not rates.empty:
        st.subheader("Rates over 12 months", anchor=False)
        show_rows(rates, alt="Rates over 12 months")
        st.caption(
            "Of the fixed recipes. Seen, estimated, held: ingredients by what their price in that "
            "month rests on; held is an old price as it was, for want of a series."
        )
    _what_added_to_it(found)


def _what_added_to_it(found: Inflation) -> None:
    st.subheader("What added to it", anchor=False)
    for title, groups, leads in (
        ("Category", found.by_category, None),
        ("Group of dishes", found.by_group, None),
        ("Dish", found.by_dish, dish_link),
    ):
        if groups:
            show_rows(
                table.group_rows(title, groups, leads),
                alt=f"By {title.lower()}",
                figure="Points",
            )
    st.caption("Points add up to the index less 100; points of the 12-month rate to that rate.")
    with st.expander(f"{counted(len(found.by_ingredient), 'ingredient')}, one by one"):
        show_rows(
            table.ingredient_rows(found.by_ingredient),
            alt="By ingredient",
            figure="Points",
        )
        st.caption(
            plain(
                f"{month_words(found.from_month)} = 100. Matched products: the geometric mean of "
                "the price changes of the same products at the same suppliers, seen on both ends, "
                "and how many (Jevons). Official: the series of the ingredient."
            )
        )


def _figures(found: Inflation) -> None:
    last = found.months[-1]
    shown = [("This kitchen", level_words(last.index))]
    for name, field in (("Food prices", "official_food"), ("All items", "official_all")):
        own = [each for each in found.months if each[field] is not None]
        if own:
            month = "" if own[-1] is last else f", {month_words(own[-1].month)}"
            shown.append((f"{name}{month}", level_words(own[-1][field])))
    if found.rate_12_pct is not None:
        shown.append(("Last 12 months", signed_rate(found.rate_12_pct)))
    for column, (label, words) in zip(st.columns(4), shown, strict=False):
        column.metric(label, words)
    costs = " to ".join(
        show_money(each, found.currency) for each in (found.cost_from, found.cost_to)
    )
    first = month_words(found.from_month)
    st.caption(
        plain(
            f"{first} = 100: one portion of each of {counted(found.dishes, 'dish', 'dishes')}, in "
            f"the recipes of {first}, on the 15th of each month; {costs} a portion on average."
        )
    )
