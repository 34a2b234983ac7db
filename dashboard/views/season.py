"""The page of the season: in which months of the year an ingredient or a dish is cheap."""

from __future__ import annotations

import calendar

import streamlit as st

from dashboard.charts.season import season_chart
from dashboard.tables.season import month_rows, part_rows
from dashboard.views.book import TheBook, the_book
from dashboard.views.choices import start_here
from dashboard.views.loaders import dishes_of, ingredients_of, season_of
from dashboard.views.pages import ARROW, page
from dashboard.views.sentences import sentences
from dashboard.views.theme import dark
from dashboard.words import season as words
from dashboard.words.figures import percent
from dashboard.words.markdown import plain
from pricing.season.season import Season

INGREDIENT, DISH = "ingredient", "dish"


def show() -> None:
    """Draw the page."""
    book = the_book()
    st.header("Season", anchor=False)
    ingredients = [each.ingredient for each in ingredients_of(book.state)]
    if not ingredients:
        start_here("ingredients")
        return
    dishes = [each.dish for each in dishes_of(book.state)]
    which, what = st.columns([1, 3])
    of = which.radio(
        "Season of", [INGREDIENT, DISH], key="of", bind="query-params", horizontal=True
    )  # fmt: skip
    if of == DISH and not dishes:
        start_here("dishes")
        return
    name = what.selectbox(
        str(of).capitalize(), dishes if of == DISH else ingredients, key=of, bind="query-params"
    )
    with sentences():
        _season(season_of(book.state, name, of == DISH))
    _onwards(book, name, of == DISH)


def _season(found: Season) -> None:
    st.subheader(plain(found.name), anchor=False)
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
    st.altair_chart(
        season_chart(month_rows(found), dark=dark()),
        alt=f"Season of {found.name}: each month against the mean of the year",
        key="season",
    )
    cheap = "The cheapest months are filled. " if words.cheap_months(found) else ""
    st.caption(plain(f"{cheap}{words.strength_words(found)} {words.rests_on(found)}"))
    if found.parts:
        st.subheader("Ingredient by ingredient", anchor=False)
        st.table(
            part_rows(found), hide_index=True, border="horizontal",
            alt=f"The patterns behind the season of {found.name}",
        )  # fmt: skip
        st.caption(
            "Share: of the cost of the dish now. Swing: how much more the dearest month costs than "
            "the cheapest."
        )


def _onwards(book: TheBook, name: str, dish: bool) -> None:
    query = {"dish": name} if dish else {"ingredient": name}
    label = f"The page of {name}" if dish else f"Prices of {name}"
    st.page_link(
        page("dish" if dish else "prices"), label=plain(label), query_params=query, icon=ARROW
    )
