"""What several pages let a reader choose: a day, a version, and what to do without dishes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from dashboard.views.book import TheBook
from dashboard.views.loaders import figures_by_dish
from dashboard.views.pages import ARROW, page
from pricing.contents.choices import ListedDish, ListedVersion
from pricing.contents.printed import PrintedFigure
from pricing.money import least_shown, minor_units

EARLIEST = date(1913, 1, 1)  # the first month of the oldest bundled series
IN_FORCE = "in force that day"


def start_here(lacking: str) -> None:
    """Say what to do in a book without dishes, or without ingredients."""
    st.info(f"The book holds no {lacking} yet.", icon=":material/info:")
    st.page_link(page("today"), label="Start on the page Today", icon=ARROW)


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


def version_on(dish: ListedDish, on: date) -> ListedVersion:
    """Return the version in force on a day, else the first."""
    begun = [each for each in dish.versions if each.effective_from <= on]
    return begun[-1] if begun else dish.versions[0]


def version_choices(dish: ListedDish) -> list[str]:
    """Return what the choice of a version offers."""
    return [IN_FORCE, *(each.version for each in dish.versions)]


def target_input(where: DeltaGenerator, label: str, currency: str, key: str) -> float | None:
    """Draw what a portion may cost, and return it; its start is set by the address."""
    smallest, digits = 2 * least_shown(currency), minor_units().get(currency, 2)
    return where.number_input(
        f"{label}, {currency}", min_value=smallest, value=None, step=5 * smallest,
        format=f"%.{digits}f", key=key, placeholder="what a portion may cost",
    )  # fmt: skip


def day_input(label: str, key: str, latest: date) -> date:
    """Draw a date, and return it; its start is set by the address (address.day)."""
    picked = st.date_input(
        label, min_value=EARLIEST, max_value=latest, format="YYYY-MM-DD", key=key, width=150
    )
    return picked or latest
