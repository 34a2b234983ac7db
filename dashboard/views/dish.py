"""The page of one dish: its figure, how it drifted and why, its lines, what brings it down."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import cast

import pandas as pd
import streamlit as st

from dashboard.charts.drift_of_dish import drift_chart
from dashboard.tables import dish as table
from dashboard.tables.pictures import course_words
from dashboard.views import bring_down, outlook, why
from dashboard.views.address import Kept, choice, follow_on, number, years, yes_or_no
from dashboard.views.book import TheBook, one_look
from dashboard.views.choices import IN_FORCE, first_day, version_choices
from dashboard.views.loaders import (
    change_of,
    cost_of,
    drift_of,
    printed_of,
    rebased_of,
    settings_of,
)
from dashboard.views.new_version import link_to_new_version
from dashboard.views.outcome import show_outcome
from dashboard.views.pages import ARROW, page
from dashboard.views.picture import show_picture
from dashboard.views.rows_table import show_rows
from dashboard.views.season import show_season
from dashboard.views.sentences import sentences
from dashboard.words.allergens import changed_allergens_words, dish_allergens_words
from dashboard.words.dish import (
    LOCAL_LAW,
    band_span,
    change_words,
    figure_words,
    gaps,
    portions_words,
    work_words,
)
from dashboard.words.evidence import band_words
from dashboard.words.figures import figure, plain_number
from dashboard.words.house_rules import to_print_words
from dashboard.words.markdown import plain
from dashboard.words.waiting import waiting_name
from pricing.contents.choices import ListedDish
from pricing.contents.printed import PrintedFigure
from pricing.days import day_words, month_text
from pricing.dishes.cost import MOST_PORTIONS, DishCost
from pricing.names import waiting_words
from pricing.swaps.records import CAUTION

SECTIONS = {  # by anchor
    "drift": "Over the years",
    "why": "Why",
    "lines": "Lines",
    "bring-it-down": "Bring it down",
    "when-cheap": "When it is cheap",
    "outlook": "When the issue is out",
}

DOWN, CHEAP, AHEAD = "down", "cheap", "ahead"
_SWITCHES = {
    DOWN: "Look for swaps, amounts and packs that bring it down",
    CHEAP: "Show in which months it is cheap",
    AHEAD: "Look ahead: what may a portion cost when the issue is out?",
}


def fields(book: TheBook, dish: ListedDish) -> dict[str, Kept]:
    """Return the choices on the page of a dish that stand in its address."""
    first, last = _span(book, dish)
    return {
        "version": choice(version_choices(dish)),
        "years": years(first.year, last.year),
        "unfold": yes_or_no(True),
        **why.fields(book, dish),
        **bring_down.fields(book, dish),
        **outlook.fields(book, dish),
        DOWN: yes_or_no(bring_down.asked_for()),
        CHEAP: yes_or_no(),
        AHEAD: yes_or_no(),
        "portions": number(None, 0.01, MOST_PORTIONS),
    }


def show(book: TheBook, dish: ListedDish) -> None:
    """Draw the page: figure and one sentence; drift; why; lines; what brings it down."""
    name, label = st.columns([5, 2], vertical_alignment="bottom")
    name.header(dish.dish, anchor=False)
    show_outcome()
    picked = label.selectbox("Version", version_choices(dish), key="version")
    version = None if picked == IN_FORCE else picked
    cost = cost_of(book.state, dish.dish, book.on, version)
    figures = printed_of(book.state, dish.dish)
    _figure(book, dish, cost, figures, version)
    _gaps(cost)
    link_to_new_version(dish.dish, cost.version)
    st.markdown(" · ".join(f"[{title}](#{anchor})" for anchor, title in SECTIONS.items()))
    _section("drift", _drift, book, dish, figures, version)
    _section("why", why.show, book, dish, version)
    _section("lines", _lines, book, cost, version)
    _section("bring-it-down", _behind, DOWN, bring_down.show, book, dish, version)
    _section("when-cheap", _behind, CHEAP, show_season, book, dish.dish, True)
    _section("outlook", _behind, AHEAD, outlook.show_outlook, book, dish.dish, version)
    st.caption(f"{CAUTION} {LOCAL_LAW}")


def _section(anchor: str, draw: Callable[..., None], *args: object) -> None:
    st.subheader(SECTIONS[anchor], anchor=anchor, divider="gray")

    @st.fragment(key=f"section {anchor}")
    def section() -> None:
        follow_on()
        with one_look(), sentences():
            draw(*args)

    section()


def _behind(key: str, draw: Callable[..., None], *args: object) -> None:
    """Draw what takes longer only once it is asked for."""
    if st.toggle(_SWITCHES[key], key=key):
        draw(*args)


def _figure(
    book: TheBook,
    dish: ListedDish,
    cost: DishCost,
    figures: list[PrintedFigure],
    version: str | None,
) -> None:
    large, words = st.columns([2, 5], vertical_alignment="center")
    large.metric(
        "Cost per portion",
        plain(cost.display["cost_per_portion"]),
    )
    if span := band_span(cost):
        large.caption(plain(span))
    with words:
        st.markdown(plain(figure_words(cost)))
        if to_print := to_print_words(cost, settings_of(book.state)):
            st.markdown(plain(f"{to_print}."))
        if cost.band is not None:
            said = band_words(cost.band, cost.currency, complete=cost.complete)
            st.markdown(plain(said))
        if work := work_words(cost):
            st.markdown(plain(work))
        st.markdown(plain(dish_allergens_words(cost.allergens)))
        printed = figures[0] if figures else None
        then = first_day(book, dish)
        if then[0] >= cost.on:
            return
        with sentences():
            now = cost.on if version is None else (cost.on, version)  # as under Why: asked once
            found = change_of(book.state, dish.dish, then, now)
            st.markdown(plain(change_words(found, printed)))
            st.markdown(plain(changed_allergens_words(found.allergens)))


def _gaps(cost: DishCost) -> None:
    missing = gaps(cost)
    if not missing:
        return
    with st.container(border=True):
        st.markdown("**At least, because these lines have no price:**")
        for ingredient, reason in missing.items():
            if waiting_words(ingredient) is not None:
                st.markdown(f"- {plain(waiting_name(ingredient))}")
                st.page_link(
                    page("book"),
                    label="Decide what it is, in the Tray",
                    query_params={"part": "tray"},
                    icon=ARROW,
                )
                continue
            st.markdown(f"- {plain(f'{ingredient}: {reason}')}")
            st.page_link(
                page("ingredients"),
                label=f"Log a price of {plain(ingredient)}",
                query_params={"ingredient": ingredient},
                icon=ARROW,
            )


def _drift(
    book: TheBook, dish: ListedDish, figures: list[PrintedFigure], version: str | None
) -> None:
    currency = settings_of(book.state).currency
    first, last = _span(book, dish)
    span = (first.year, last.year)
    if first.year < last.year:  # its value stands in the address
        span = cast("tuple[int, int]", st.slider("Years", *span, key="years"))
    points = drift_of(book.state, dish.dish, month_text(min(first, book.on)), version)
    points = table.with_day(points, cost_of(book.state, dish.dish, book.on, version))
    printed = table.printed_frame(figures, currency, book.on)
    rebased = _rebased(book, figures, currency)
    points, printed, rebased = (
        each[each["on"].dt.year.between(*span)] for each in (points, printed, rebased)
    )
    if points.empty:
        st.info("No 15th of a month in these years to cost. Widen the years.")
        return
    begin, close = points["on"].iloc[0].date(), points["on"].iloc[-1].date()
    marks = table.versions_frame([] if version else dish.versions, begin, close)
    show_picture(
        lambda dark: drift_chart(points, printed, rebased, marks, currency=currency, dark=dark),
        name=f"Drift chart of {dish.dish}",
        finds=course_words(points, "cost", "Cost per portion"),
        data=points,
        columns={"day": "Prices of", "shown": "Cost per portion", "version": "Version",
                 "evidence": "Evidence"},
        key="drift",
    )  # fmt: skip
    costed = f"in version {version} throughout" if version else "in the version of its day"
    st.caption(
        plain(
            f"Each month is costed on its 15th, {costed}; the last point is the figure above. "
            f"{table.rebased_words(rebased)} "
            "Diamonds are figures as printed. Point at the line for a month's figure and evidence."
        )
    )


def _span(book: TheBook, dish: ListedDish) -> tuple[date, date]:
    """Return the first day of a dish: of its first version, or an earlier figure; and the last."""
    figures = printed_of(book.state, dish.dish)
    first = min([dish.versions[0].effective_from, *(figure.costed_on for figure in figures)])
    return min(first, book.on), book.on


def _rebased(book: TheBook, figures: list[PrintedFigure], currency: str) -> pd.DataFrame:
    if not figures or figures[0].currency != currency:
        return table.rebased_frame((), currency)
    first = figures[0]
    return rebased_of(book.state, first.cost_per_portion, first.costed_on)


def _lines(book: TheBook, cost: DishCost, version: str | None) -> None:
    portions = st.number_input(
        "Scale to portions", min_value=0.01, max_value=float(MOST_PORTIONS), value=None, step=1.0,
        format="%g", key="portions", width=200,
        placeholder=f"as written: {plain_number(cost.recipe_portions)}",
    )  # fmt: skip
    if portions is not None:
        cost = cost_of(book.state, cost.dish, book.on, version, scaled_to=portions)
    batch = figure(cost.cost_per_batch, cost.complete, cost.currency)
    st.markdown(plain(f"At prices of {day_words(cost.on)}: {batch} for {portions_words(cost)}."))
    unfold = any(line.lines for line in cost.lines) and st.toggle(
        "Show the lines inside sub-recipes", key="unfold"
    )
    measures = settings_of(book.state).measures
    show_rows(
        table.line_rows(cost, measures, unfold=unfold),
        alt=f"Costed lines of {cost.dish}",
        figure="Cost",
    )
