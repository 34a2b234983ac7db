"""Records a printed figure beside its costing, and keeps what that rests on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import streamlit as st

from dashboard.views.book import TheBook
from dashboard.views.choices import EARLIEST, IN_FORCE, version_choices, version_on
from dashboard.views.loaders import cost_of, dishes_of, settings_of
from dashboard.views.outcome import keep
from dashboard.words.dish import LOCAL_LAW
from dashboard.words.figures import counted
from dashboard.words.house_rules import rules_sentence
from dashboard.words.markdown import plain
from dashboard.words.printed import recorded_text
from pricing.days import day_words
from pricing.dishes.cost import DishCost
from pricing.errors import PortionDriftError
from pricing.printed.publish import record_printed

_YEARS_AHEAD = 5  # how far ahead the form lets an issue lie


@dataclass(frozen=True, kw_only=True)
class _Filled:
    """What the form holds."""

    dish: str
    published_on: date
    costed_on: date
    version: str
    printed: str
    where: str
    note: str


def record_printed_form(book: TheBook, names: Sequence[str], dish: str | None) -> None:
    """Draw the form, the costing that would be kept, and the button."""
    what, label = st.columns([4, 3])
    name = what.selectbox(
        "Dish of the figure", names, index=names.index(dish) if dish else 0,
        key=f"record {dish or ''}",
    )  # fmt: skip
    (named,) = (each for each in dishes_of(book.state) if each.dish == name)
    picked = label.selectbox(
        "Version", version_choices(named),
        key=f"version to record of {name}",
    )  # fmt: skip
    published_on, costed_on = _days(book)
    amount, place, more = st.columns([2, 3, 3])
    printed = amount.text_input(
        "Amount as printed", key="printed_amount", placeholder="3.50, or about 3.50",
        help="The costing, rounded, where this is left empty.",
    )  # fmt: skip
    filled = _Filled(
        dish=name,
        published_on=published_on,
        costed_on=costed_on,
        version=version_on(named, published_on).version if picked == IN_FORCE else picked,
        printed=printed or "",
        where=place.text_input("Where it is printed", key="published_where") or "",
        note=more.text_input("Note", key="printed_note") or "",
    )
    cost = cost_of(book.state, name, costed_on, filled.version, costed_on)
    _costing(cost)
    rules = rules_sentence(settings_of(book.state))
    st.caption(f"{plain(rules)} {LOCAL_LAW}")
    st.button(
        "Record this figure", type="primary", disabled=not cost.complete, on_click=_record,
        args=(book, filled),
    )  # fmt: skip


def _days(book: TheBook) -> tuple[date, date]:
    """Draw the day of publication, which may lie ahead, and the day whose prices count."""
    published, costed = st.columns(2)
    on = published.date_input(
        "Published on", value=book.today, min_value=EARLIEST,
        max_value=book.today.replace(year=book.today.year + _YEARS_AHEAD, day=1),
        format="YYYY-MM-DD", key="published_on", help="The issue need not be out yet.",
    ) or book.today  # fmt: skip
    latest = min(on, book.today)
    costed_on = costed.date_input(
        "Costed for prices of", value=latest, min_value=EARLIEST, max_value=latest,
        format="YYYY-MM-DD", key=f"costed_on {latest}",
    ) or latest  # fmt: skip
    return on, costed_on


def _costing(cost: DishCost) -> None:
    """Say what would be kept as evidence."""
    amount, day = cost.display["cost_per_portion"], day_words(cost.on)
    if not cost.complete:
        st.warning(
            plain(
                f"{cost.dish} costs {amount} a portion on {day}: a price is missing, and a figure "
                "that is only at least is not published. Log the missing prices first; the page "
                "of the dish names them."
            )
        )
        return
    prices = sum(len(line.observed) for line in cost.ingredient_lines())
    st.info(
        plain(
            f"{cost.dish}, version {cost.version}: {amount} a portion, at prices of {day} with the "
            f"sub-recipes of that day. Recording keeps every line, the {counted(prices, 'price')} "
            "behind them and their sources as they are today, so that they can be shown even if "
            "prices are corrected later."
        )
    )


def _record(book: TheBook, filled: _Filled) -> None:
    try:
        made = record_printed(
            book.book, filled.dish, on=filled.published_on, printed=filled.printed.strip() or None,
            costed_on=filled.costed_on, version=filled.version, where=filled.where,
            note=filled.note,
        )  # fmt: skip
    except PortionDriftError as refused:
        keep(str(refused), stored=False)
    else:
        rules = rules_sentence(settings_of(book.state))
        keep(recorded_text(made, rules), stored=True, load=made.load)
