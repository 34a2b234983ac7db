"""What the book decides for itself, edited in place; each change is kept by its date."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable

import streamlit as st

from dashboard.views.book import TheBook
from dashboard.views.loaders import series_of, settings_of
from dashboard.views.outcome import keep
from dashboard.words.markdown import plain
from pricing.contents.settings import CHANGEABLE, CHOICES, change_setting
from pricing.errors import PortionDriftError

_SAID = {
    "fresh_days": "A price is fresh for so many days",
    "half_life_days": "An older price counts half as much for every so many days",
    "market": "Whose prices count",
    "food_series": "Official series of food at home",
    "all_items_series": "Official series of all items",
    "allergen_list": "Names of allergens",
    "rate_per_hour": "What an hour of work costs",
    "rounding": "Printed figures are multiples of so many cents (or other smallest units)",
    "rounding_way": "They are rounded",
    "pantry_counted": "They hold the store cupboard, lines marked pantry",
    "tolerance": "A printed figure holds within so many percent",
    "sentence": "The sentence to print, with {dish}, {cost}, {portions}, {month}",
}


def show_settings(book: TheBook) -> None:
    """Draw every setting with its value, and store what is changed."""
    now = dataclasses.asdict(settings_of(book.state))
    st.markdown(
        plain(f"Currency {now['currency']}, measures {now['measures']}: chosen when it was made.")
    )
    for name in CHANGEABLE:
        label = _SAID.get(name, name.replace("_", " "))
        key, value = f"setting {name}", now[name]
        store = _store(book, name, key)
        if name in CHOICES:
            st.selectbox(
                label, CHOICES[name], index=CHOICES[name].index(str(value)), key=key,
                on_change=store, width=420,
            )  # fmt: skip
        elif name.endswith("_series"):
            series = {each.series: each.title or each.series for each in series_of(book.state)}
            st.selectbox(
                label, list(series), index=list(series).index(value) if value in series else None,
                key=key, on_change=store, width=420, placeholder="none",
                format_func=lambda each, titles=series: f"{titles.get(each, each)} ({each})",
            )  # fmt: skip
        else:
            st.text_input(
                label, value=_written(value), key=key, on_change=store, width=420,
            )  # fmt: skip


def _written(value: float | str | None) -> str:
    if value is None:
        return ""
    return value if isinstance(value, str) else f"{value:g}"


def _store(book: TheBook, name: str, key: str) -> Callable[[], None]:
    def store() -> None:
        value = st.session_state[key]
        try:
            change_setting(book.book, name, str(value or ""))
        except PortionDriftError as refused:
            keep(str(refused), stored=False)
        else:
            keep(f"{_SAID.get(name, name)}: {value}.", stored=True)

    return store
