"""The way from an empty book to a first costed dish: it stays until every step is done."""

from __future__ import annotations

import streamlit as st

from dashboard.views.book import TheBook
from dashboard.views.loaders import dishes_of, ingredients_of
from ingest.text.columns import TABLES

_STEPS = (
    ("ingredients", "what you buy, and the unit its price is counted in (g, ml or each)"),
    ("dishes", "one row a line: the dish, its portions, an ingredient, how much of it"),
    ("prices", "what a pack cost, and when; then each dish has a cost"),
)


_WAYS = (
    "Load any file you have as it is, below: a price list, a receipt, an invoice, a recipe; or "
    "paste a receipt or a recipe. What the book does not know yet waits in the Tray, where you say "
    "once what it is. Or log a price by hand, once an ingredient is there. A table of your own may "
    "have these headings:"
)


def next_step(book: TheBook) -> str | None:
    """Return the kind of file that the book needs next; None when each step is done."""
    there = _counts(book)
    return next((kind for kind, _ in _STEPS if not there[kind]), None)


def show_start(book: TheBook) -> None:
    """Draw the steps, what is done of them, and a file of headings for those to come."""
    there = _counts(book)
    left = [kind for kind, _ in _STEPS if not there[kind]]
    st.info(f"The book holds no {left[0]} yet. {_WAYS}", icon=":material/info:")
    for number, (kind, what) in enumerate(_STEPS, start=1):
        words, button = st.columns([5, 2], vertical_alignment="center")
        if there[kind]:
            words.markdown(f"**{number}. {kind}**: ✓ done, {there[kind]:,} in the book")
            continue
        words.markdown(f"**{number}. {kind}**: {what}")
        button.download_button(
            f"Headings for {kind}",
            ",".join(column.name for column in TABLES[kind]) + "\n",
            f"{kind}.csv",
            "text/csv",
            on_click="ignore",
            key=f"headings {kind}",
        )


def _counts(book: TheBook) -> dict[str, int]:
    """Return how many there are of what each step brings."""
    ingredients = ingredients_of(book.state)
    return {
        "ingredients": len(ingredients),
        "dishes": len(dishes_of(book.state)),
        "prices": sum(each.prices for each in ingredients),
    }
