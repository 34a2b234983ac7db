"""The page then and now: what of a dish's change is prices, what is the recipe, step by step."""

from __future__ import annotations

from datetime import date

import streamlit as st

from dashboard.charts.waterfall import waterfall_chart
from dashboard.tables.then_and_now import (
    corner_rows,
    ingredient_rows,
    rebased_rows,
    waterfall_steps,
)
from dashboard.views.book import TheBook, the_book
from dashboard.views.choices import IN_FORCE, day_input, first_day, start_here, version_choices
from dashboard.views.loaders import change_of, dishes_of, settings_of
from dashboard.views.pages import ARROW, page
from dashboard.views.theme import dark
from dashboard.words.allergens import changed_allergens_words
from dashboard.words.change import (
    change_paragraph,
    left_out_sentences,
    now_called,
    old_called,
    shown_change,
    state_words,
    without_words,
)
from dashboard.words.markdown import plain
from pricing.change.records import Comparison, When
from pricing.contents.choices import ListedDish
from pricing.days import month_words
from pricing.money import show_money

_SIDES = ("then", "now")


def show() -> None:
    """Draw the page."""
    book = the_book()
    dishes = {dish.dish: dish for dish in dishes_of(book.state)}
    if not dishes:
        st.header("Then and now", anchor=False)
        start_here("dishes")
        return
    name = st.selectbox(
        "Dish", list(dishes), key="dish", bind="query-params",
        on_change=_start_anew, args=(book, dishes),
    )  # fmt: skip
    dish = dishes[name]
    then, now = _days(book, dish)
    st.header(dish.dish, anchor=False)
    found = change_of(book.state, dish.dish, then, now)
    _figures(found)
    st.markdown(plain(change_paragraph(found)))
    st.markdown(plain(changed_allergens_words(found.allergens)))
    _waterfall(found)
    _tables(book, found)
    st.page_link(
        page("dish"), label=f"The page of {plain(dish.dish)}", query_params={"dish": dish.dish},
        icon=ARROW,
    )  # fmt: skip


def _start_anew(book: TheBook, dishes: dict[str, ListedDish]) -> None:
    """Go back to the first day of the dish just chosen: the old one's versions are not its own."""
    dish = dishes[st.session_state["dish"]]
    st.session_state["then"], st.session_state["then_version"] = first_day(book, dish)
    st.session_state["now"], st.session_state["now_version"] = book.on, IN_FORCE


def _days(book: TheBook, dish: ListedDish) -> tuple[When, When]:
    """Draw the two dates and versions."""
    first, version = first_day(book, dish)
    columns = st.columns(4)
    labels = version_choices(dish)
    picked: list[When] = []
    for place, (side, start) in enumerate(zip(_SIDES, (first, book.on), strict=True)):
        with columns[2 * place]:
            on: date = day_input(f"{side.capitalize()}: prices of", side, start, book.on)
        with columns[2 * place + 1]:
            chosen = st.selectbox(
                f"{side.capitalize()}: version",
                labels,
                index=labels.index(version) if side == "then" and version in labels else 0,
                key=f"{side}_version",
                bind="query-params",
            )
        picked.append(on if chosen == IN_FORCE else (on, chosen))
    return picked[0], picked[1]


def _figures(found: Comparison) -> None:
    change, by_price, by_recipe = shown_change(found)
    corners = found.corners
    shown = (
        ("Then", show_money(corners.then_recipe_then, found.currency)),
        (old_called(found), show_money(corners.then_recipe_now, found.currency)),
        (now_called(found), show_money(corners.now_recipe_now, found.currency)),
        ("Change", change),
        ("By prices", by_price),
        ("By the recipe", by_recipe),
    )
    for column, (label, words) in zip(st.columns(len(shown)), shown, strict=True):
        column.metric(label, plain(words))
    sides = f"{state_words(found.then)}; {state_words(found.now)}."
    st.caption(plain(f"{sides[:1].upper()}{sides[1:]}"))
    if found.left_out:
        reasons = "\n".join(f"- {plain(each)}" for each in left_out_sentences(found.left_out))
        st.warning(f"{plain('All figures are ' + without_words(found))}.\n\n{reasons}")


def _waterfall(found: Comparison) -> None:
    st.subheader("From then to now", anchor=False)
    st.altair_chart(
        waterfall_chart(waterfall_steps(found), currency=found.currency, dark=dark()),
        alt=f"Waterfall of {found.dish}: from its cost then to its cost now",
        key="waterfall",
    )
    st.caption(
        "Read from the top: each bar starts where the one above ended. Solid bars are prices, "
        "striped bars the recipe, the first and the last the cost of a portion."
    )


def _tables(book: TheBook, found: Comparison) -> None:
    settings = settings_of(book.state)
    st.subheader("Each recipe at each day's prices", anchor=False)
    st.table(corner_rows(found), hide_index=True, border="horizontal", alt="The four corners")
    st.subheader("Ingredient by ingredient", anchor=False)
    st.caption("Amounts per portion, as purchased. Follow an ingredient to its prices.")
    st.table(
        ingredient_rows(found, settings.measures), hide_index=True, border="horizontal",
        alt=f"What each ingredient did to the cost of {found.dish}",
    )  # fmt: skip
    amount = show_money(found.corners.then_recipe_then, found.currency)
    old = f"The cost then, {amount} of {month_words(found.then.on)}, moved"
    st.subheader(plain(old), anchor=False)
    st.table(
        rebased_rows(found, settings.food_series), hide_index=True, border="horizontal",
        alt="The old cost moved by official series and by its own ingredients",
    )  # fmt: skip
    if not found.rebased:
        st.info(
            "The book names no official series to move the old cost by. Name a food-at-home and an "
            "all-items series with `portiondrift setting`."
        )
