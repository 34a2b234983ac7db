"""Records a figure as published from a costing, and keeps what it rested on."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import streamlit as st

from dashboard.views.book import TheBook
from dashboard.views.choices import EARLIEST, IN_FORCE, version_choices
from dashboard.views.loaders import cost_of, dishes_of
from dashboard.views.outcome import keep
from dashboard.words.figures import counted
from dashboard.words.markdown import plain
from dashboard.words.printed import recorded_text
from pricing.days import day_words
from pricing.errors import PortionDriftError
from pricing.printed.publish import record_claim


def record_claim_form(book: TheBook, names: Sequence[str], dish: str | None) -> None:
    """Draw the form, the costing that would be recorded, and the button."""
    what, day, label = st.columns([4, 2, 3])
    place, more = st.columns(2)
    name = what.selectbox(
        "Dish of the figure", names, index=names.index(dish) if dish else 0,
        key=f"record {dish or ''}",
    )  # fmt: skip
    on = day.date_input(
        "Published on", value=book.on, min_value=EARLIEST, max_value=book.on,
        format="YYYY-MM-DD", key="published_on",
    ) or book.on  # fmt: skip
    (named,) = (each for each in dishes_of(book.state) if each.dish == name)
    picked = label.selectbox(
        "Version", version_choices(named),
        key=f"version to record of {name}",
    )  # fmt: skip
    where = place.text_input("Where it is printed", key="published_where")
    note = more.text_input("Note", key="claim_note")
    version = None if picked == IN_FORCE else picked
    cost = cost_of(book.state, name, on, version)
    prices = sum(len(line.observed) for line in cost.ingredient_lines())
    if not cost.complete:
        st.warning(
            plain(
                f"{name} costs {cost.display['cost_per_portion']} a portion on {day_words(on)}: a "
                "price is missing, and a figure that is only at least is not published. Log the "
                "missing prices first; the page of the dish names them."
            )
        )
    else:
        st.info(
            plain(
                f"{name}, version {cost.version}: {cost.display['cost_per_portion']} a portion, at "
                f"prices of {day_words(on)}. Recording keeps every line, the "
                f"{counted(prices, 'price')} behind them and their sources as they are today, so "
                "that they can be shown even if prices are corrected later."
            )
        )
    st.button(
        "Record this figure", type="primary", disabled=not cost.complete, on_click=_record,
        args=(book, name, on, version, where or "", note or ""),
    )  # fmt: skip


def _record(book: TheBook, dish: str, on: date, version: str | None, where: str, note: str) -> None:
    try:
        made = record_claim(book.book, dish, on=on, version=version, where=where, note=note)
    except PortionDriftError as refused:
        keep(str(refused), stored=False)
    else:
        keep(recorded_text(made), stored=True, batch=made.batch)
