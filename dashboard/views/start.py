"""The way from an empty book to a first costed dish: it stays until every step is done."""

from __future__ import annotations

import streamlit as st

from dashboard.views.book import TheBook
from dashboard.views.loaders import dishes_of, ingredients_of, series_uses_of, settings_of
from dashboard.views.pages import ARROW, PART, page
from ingest.text.columns import TABLES

_STEPS = (
    ("ingredients", "what you buy, and the unit its price is counted in (g, ml or each)"),
    ("dishes", "one row a line: the dish, its portions, an ingredient, how much of it"),
    ("prices", "what a pack cost, and when; then each dish has a cost"),
)
_BUNDLED = "USD"  # the currency whose official series come with every book


def next_step(book: TheBook) -> str | None:
    """Return the kind of file that the book needs next; None when each step is done."""
    there = _counts(book)
    return next((kind for kind, _ in _STEPS if not there[kind]), None)


def show_start(book: TheBook) -> None:
    """Draw the ways in, what is done of the steps, and a file of headings for those to come."""
    there = _counts(book)
    left = [kind for kind, _ in _STEPS if not there[kind]]
    st.info(f"The book holds no {left[0]} yet.", icon=":material/info:")
    _ways()
    _own_series(book)
    with st.expander("A table of your own, with our headings"):
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


def _ways() -> None:
    for label, said, room, part in (
        ("Load a file", "as you have it: a price list, receipt, invoice, workbook or recipe page",
         "book", "files"),
        ("Paste a recipe", "its lines are read, and cost what your prices say", "dishes", "new"),
        ("Say what things are", "words that the book does not know wait there", "book", "tray"),
    ):  # fmt: skip
        way, words = st.columns([2, 5], vertical_alignment="center")
        way.page_link(page(room), label=label, query_params={PART: part}, icon=ARROW)
        words.markdown(said)
    st.markdown(
        "Or log a price by hand, above, once an ingredient is there. To look around first, run "
        "`portiondrift demo` in a terminal: an invented kitchen, in a book of its own."
    )


def _own_series(book: TheBook) -> None:
    """Lead to the official series of the country, where those that come with a book are not its."""
    currency = settings_of(book.state).currency
    if currency == _BUNDLED or series_uses_of(book.state):
        return
    st.markdown(
        f"The official series that come with a book are of US dollars; yours is in {currency}. "
        "Load or fetch those of your country, so that old prices can be moved:"
    )
    st.page_link(page("book"), label="Official series", query_params={PART: "series"}, icon=ARROW)


def _counts(book: TheBook) -> dict[str, int]:
    """Return how many there are of what each step brings."""
    ingredients = ingredients_of(book.state)
    return {
        "ingredients": len(ingredients),
        "dishes": len(dishes_of(book.state)),
        "prices": sum(each.prices for each in ingredients),
    }
