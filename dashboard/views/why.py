"""Then and now: what of a dish's change is prices, what is the recipe, step by step."""

from __future__ import annotations

import streamlit as st

from dashboard.charts.waterfall import waterfall_chart
from dashboard.tables.then_and_now import (
    corner_rows,
    ingredient_rows,
    rebased_rows,
    waterfall_steps,
)
from dashboard.views.address import Kept, choice, day
from dashboard.views.book import TheBook
from dashboard.views.choices import EARLIEST, IN_FORCE, day_input, first_day, version_choices
from dashboard.views.loaders import change_of, settings_of
from dashboard.views.picture import show_picture
from dashboard.views.rows_table import show_rows
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


def fields(book: TheBook, dish: ListedDish) -> dict[str, Kept]:
    """Return what then is: a day and a version."""
    first, version = first_day(book, dish)
    labels = version_choices(dish)
    return {
        "then": day(first, EARLIEST, book.on),
        "then_version": choice(labels, version if version in labels else labels[0]),
    }


def show(book: TheBook, dish: ListedDish, version: str | None) -> None:
    """Draw what of the change since then is prices, and what the recipe."""
    on, label = st.columns([1, 3])
    with on:
        start = day_input("Then: prices of", "then", book.on)
    picked = label.selectbox("Then: version", version_choices(dish), key="then_version", width=260)
    then: When = start if picked == IN_FORCE else (start, picked)
    now: When = book.on if version is None else (book.on, version)
    found = change_of(book.state, dish.dish, then, now)
    _figures(found)
    st.markdown(plain(change_paragraph(found)))
    st.markdown(plain(changed_allergens_words(found.allergens)))
    _waterfall(found)
    _tables(book, found)


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
    st.markdown("**From then to now**")
    steps = waterfall_steps(found)
    show_picture(
        lambda dark: waterfall_chart(steps, currency=found.currency, dark=dark),
        name=f"Waterfall of {found.dish}",
        finds="; ".join(steps["said"].iloc[[0, -1]]) + ".",
        data=steps,
        columns={"step": "Step", "kind": "By", "shown": "Per portion"},
        key="waterfall",
    )
    st.caption(
        "Read from the top: each bar starts where the one above ended. Solid bars are prices, "
        "striped bars the recipe, the first and the last the cost of a portion."
    )


def _tables(book: TheBook, found: Comparison) -> None:
    settings = settings_of(book.state)
    st.markdown("**Each recipe at each day's prices**")
    show_rows(corner_rows(found), alt="The four corners")
    st.markdown("**Ingredient by ingredient**")
    st.caption("Amounts per portion, as purchased. Follow an ingredient to its prices.")
    show_rows(
        ingredient_rows(found, settings.measures),
        alt=f"What each ingredient did to the cost of {found.dish}",
        figure="By price",
    )
    amount = show_money(found.corners.then_recipe_then, found.currency)
    old = f"The cost then, {amount} of {month_words(found.then.on)}, moved"
    st.markdown(f"**{plain(old)}**")
    show_rows(
        rebased_rows(found, settings.food_series),
        alt="The old cost moved by official series and by its own ingredients",
    )  # fmt: skip
    if not found.rebased:
        st.info(
            "The book names no official series to move the old cost by. Name a food-at-home and an "
            "all-items series with `portiondrift setting`."
        )
