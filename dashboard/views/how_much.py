"""The part of a dish that plans an ingredient to a target: how much may go in, or which portion."""

from __future__ import annotations

from datetime import date

import streamlit as st

from dashboard.views.book import TheBook
from dashboard.views.choices import target_input
from dashboard.views.loaders import cost_of
from dashboard.words.amount import amount_sentence, portion_sentence
from dashboard.words.figures import figure
from dashboard.words.markdown import plain
from pricing.dishes.amount import amount_in

INGREDIENT = "of"


def show_how_much(book: TheBook, dish: str, on: date, version: str | None) -> None:
    """Draw the target and the ingredient, then how much of it a batch may take."""
    cost = cost_of(book.state, dish, on, version)
    large, amount, which = st.columns([2, 2, 4], vertical_alignment="bottom")
    large.metric(
        "Cost per portion",
        plain(figure(cost.cost_per_portion, cost.complete, cost.currency)),
    )
    target = target_input(amount, "Target per portion", cost.currency, "target")
    spent: dict[str, float] = {}
    for line in cost.ingredient_lines():
        spent[line.ingredient] = spent.get(line.ingredient, 0.0) + (line.cost or 0.0)
    dearest_first = sorted(spent, key=lambda each: (-spent[each], each))
    ingredient = which.selectbox(
        "Ingredient", dearest_first, index=None, key=INGREDIENT, placeholder="the dearest first"
    )
    if target is None or ingredient is None:
        st.info(
            "Enter a target and choose an ingredient, to see how much of it a portion at that "
            "price allows.",
            icon=":material/info:",
        )
        return
    found = amount_in(cost, ingredient, target=target)
    st.markdown(f"**{plain(amount_sentence(found))}**")
    st.markdown(plain(portion_sentence(found)))
    st.caption(
        "At the unit price of that day, whatever the amount. Whether the dish is still one, a "
        "pan will tell."
    )
