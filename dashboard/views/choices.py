"""What several pages let a reader choose: a day, a version, and what to do without dishes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

import streamlit as st

from dashboard.views.book import TheBook
from dashboard.views.loaders import figures_by_dish
from dashboard.views.pages import ARROW, TITLES, WHY, page
from pricing.contents.choices import ListedDish
from pricing.contents.printed import PrintedFigure

EARLIEST = date(1913, 1, 1)  # the first month of the oldest bundled series
IN_FORCE = "in force that day"


def start_here(lacking: str) -> None:
    """Say what to do in a book without dishes, or without ingredients."""
    st.info(
        f"The book holds no {lacking} yet. Load ingredients first, then dishes, then prices.",
        icon=":material/info:",
    )
    st.page_link(page("prices"), label="Start on the page Prices", icon=ARROW)


def first_day(book: TheBook, dish: ListedDish) -> tuple[date, str]:
    """Return the day its first printed figure was costed for, else first in force; the version."""
    return _first_day(book, dish, figures_by_dish(book.state))


def earliest_day(book: TheBook, dishes: Iterable[ListedDish]) -> date:
    """Return the earliest first day of some dishes."""
    figures = figures_by_dish(book.state)
    return min(_first_day(book, dish, figures)[0] for dish in dishes)


def _first_day(
    book: TheBook, dish: ListedDish, by_dish: Mapping[str, Sequence[PrintedFigure]]
) -> tuple[date, str]:
    if figures := by_dish.get(dish.dish):
        return figures[0].costed_on, figures[0].version
    first = dish.versions[0]
    return min(first.effective_from, book.on), first.version


def version_choices(dish: ListedDish) -> list[str]:
    """Return what the choice of a version offers."""
    return [IN_FORCE, *(each.version for each in dish.versions)]


def day_input(label: str, key: str, start: date, latest: date) -> date:
    """Draw a date that the address of the page carries too."""
    picked = st.date_input(
        label, value=start, min_value=EARLIEST, max_value=latest, format="YYYY-MM-DD", key=key,
        bind="query-params",
    )  # fmt: skip
    return picked or start


def dish_day_version(
    book: TheBook, dishes: Mapping[str, ListedDish]
) -> tuple[ListedDish, date, str | None]:
    """Draw the choice of a dish, of the day whose prices count, and of a version.

    The version is None for the one in force on that day.
    """
    choose, day, label = st.columns([3, 2, 2])
    dish = dishes[choose.selectbox("Dish", list(dishes), key="dish", bind="query-params")]
    with day:
        on = day_input("Prices of", "on", book.on, book.on)
    picked = label.selectbox(
        "Version",
        version_choices(dish),
        key=f"version of {dish.dish}",
    )
    return dish, on, None if picked == IN_FORCE else picked


def why_links(dish: str | None = None) -> None:
    """Draw the ways to the pages that say why costs changed: of one dish, or of all."""
    query = {} if dish is None else {"dish": dish}
    ways = {"season": query | {"of": "dish"}} if dish is not None else {}
    with st.container(horizontal=True, gap="medium"):
        for name in WHY:
            st.page_link(
                page(name), label=TITLES[name], query_params=ways.get(name, query), icon=ARROW
            )
