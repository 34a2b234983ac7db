"""The one place where the pages keep what they read: everything hangs on the state of the book."""

from __future__ import annotations

import os
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

import pandas as pd
import streamlit as st

from dashboard.tables.dish import drift_frame, rebased_frame
from ingest.load import FileReport, load_bytes
from pricing.book.connect import Book
from pricing.book.read import Settings
from pricing.change.compare import compare
from pricing.change.drivers import Drivers, rank_drivers
from pricing.change.overview import DishThenAndNow, then_and_now
from pricing.change.records import Comparison, When
from pricing.change.what_if import WhatIf, cost_if
from pricing.clock import today
from pricing.contents.choices import (
    ListedDish,
    ListedIngredient,
    list_dishes,
    list_ingredients,
    list_suppliers,
)
from pricing.contents.printed import Claim, list_claims
from pricing.contents.series import SeriesFacts, SeriesShown, list_series, show_series
from pricing.contents.settings import book_settings
from pricing.days import month_text
from pricing.dishes.cost import DishCost, cost_dish
from pricing.dishes.drift import drift, drift_points
from pricing.errors import BookUnreadable
from pricing.inflation.measure import measure_inflation
from pricing.inflation.records import Inflation
from pricing.prices.history import PriceHistory, price_history
from pricing.prices.series_use import SeriesUse, series_uses
from pricing.prices.swings import Swing, price_swings
from pricing.printed.check import Claims, check_claims
from pricing.printed.said_and_known import SaidAndKnown, said_and_known
from pricing.season.season import Season, season_of_dish, season_of_ingredient
from pricing.series.moved_amount import rebased_paths
from pricing.swaps.history import SwapHistory, swap_history
from pricing.swaps.of_catalogue import CatalogueSwaps, catalogue_swaps
from pricing.swaps.of_dish import find_swaps
from pricing.swaps.records import Swaps
from pricing.till.records import Till
from pricing.till.shop import shop_for

WAIT_SECONDS = 5.0  # for another program to let go of the book, before a page says so
TREND_POINTS = 60  # of a small trend line

# What is kept is kept for one state of the book: its file, the instant and the size of its last
# change, and the day. A changed book, or a new day, has nothing kept. No connection is ever kept.
State = tuple[str, int, int, str]
_kept = st.cache_data(max_entries=200, show_spinner=False)


@dataclass(frozen=True, kw_only=True)
class TheBook:
    """The book of the pages, as it stood when this run of the page began."""

    book: Book
    state: State

    @property
    def on(self) -> date:
        """Today, as it was when this run began."""
        return date.fromisoformat(self.state[3])


def the_book() -> TheBook:
    """Return the book named by PORTIONDRIFT_BOOK. Raises BookUnreadable when none is named."""
    named = os.environ.get("PORTIONDRIFT_BOOK")
    if not named:
        raise BookUnreadable(
            "Found no price book named; expected one in PORTIONDRIFT_BOOK. Start the pages with "
            "`portiondrift serve`, which names it."
        )
    return TheBook(book=_book(named), state=book_state(named))


def book_state(path: str) -> State:
    """Return what tells one state of a book from another; zeros when there is no file."""
    try:
        held = os.stat(path)
    except OSError:
        return (path, 0, 0, today().isoformat())
    return (path, held.st_mtime_ns, held.st_size, today().isoformat())


def _book(path: str) -> Book:
    wait = float(os.environ.get("PORTIONDRIFT_WAIT_SECONDS", WAIT_SECONDS))
    return Book(path=Path(path), wait_seconds=wait)


@_kept
def settings_of(state: State) -> Settings:
    """Return what the book decides for itself."""
    return book_settings(_book(state[0]))


@_kept
def dishes_of(state: State) -> list[ListedDish]:
    """Return every dish with its versions, by name."""
    return list_dishes(_book(state[0]))


@_kept
def ingredients_of(state: State) -> list[ListedIngredient]:
    """Return every ingredient, by name."""
    return list_ingredients(_book(state[0]))


@_kept
def suppliers_of(state: State) -> list[str]:
    """Return every supplier, by name."""
    return list_suppliers(_book(state[0]))


@_kept
def claims_of(state: State, dish: str) -> list[Claim]:
    """Return the published figures of a dish, by date."""
    return [claim for claim in list_claims(_book(state[0])) if claim.dish == dish]


@_kept
def catalogue_of(state: State) -> list[DishThenAndNow]:
    """Return every dish then and now."""
    return then_and_now(_book(state[0]), on=date.fromisoformat(state[3]))


@_kept
def trends_of(state: State, start: str) -> dict[str, list[float]]:
    """Return each dish's cost per portion since the month `start`, thinned to a small line.

    Without the months in which a price is missing: their figures are only at least.
    """
    points = drift(_book(state[0]), start=start, end=_this_month(state))
    points = points[points["complete"]]
    return {
        str(dish): costs[:: -max(1, -(-len(costs) // TREND_POINTS))][::-1]
        for dish, costs in points.groupby("dish")["cost_per_portion"].agg(list).items()
    }


@_kept
def drift_of(state: State, dish: str, start: str, version: str | None) -> pd.DataFrame:
    """Return a dish's cost month by month since `start` (YYYY-MM), as `drift_frame`."""
    book, end = _book(state[0]), _this_month(state)
    return drift_frame(drift_points(book, [dish], start=start, end=end, version=version))


def _this_month(state: State) -> str:
    return month_text(date.fromisoformat(state[3]))


@_kept
def cost_of(state: State, dish: str, on: date, version: str | None) -> DishCost:
    """Return a dish costed on a date."""
    return cost_dish(_book(state[0]), dish, on=on, version=version)


@_kept
def change_of(state: State, dish: str, then: When, now: When) -> Comparison:
    """Return a dish then and now."""
    return compare(_book(state[0]), dish, then=then, now=now)


@_kept
def checked_claims_of(state: State, tolerance_pct: float, dish: str | None) -> Claims:
    """Return every published figure checked today, those of one dish if it is named."""
    on = date.fromisoformat(state[3])
    found = check_claims(_book(state[0]), on=on, tolerance_pct=tolerance_pct)
    if dish is None:
        return found
    return replace(found, claims=tuple(each for each in found.claims if each.dish == dish))


@_kept
def said_of(state: State) -> list[SaidAndKnown]:
    """Return every figure with kept evidence: what we said beside what we know now."""
    return said_and_known(_book(state[0]))


@_kept
def drivers_of(state: State, dishes: tuple[str, ...], then: date, now: date) -> Drivers:
    """Return the ingredients ranked by what they added to the mean cost of dishes (none: all)."""
    return rank_drivers(_book(state[0]), dishes, then=then, now=now)


@_kept
def swings_of(state: State, ingredients: tuple[str, ...], start: str, end: str) -> dict[str, Swing]:
    """Return how the prices of ingredients swing between two months, by ingredient."""
    found = price_swings(_book(state[0]), ingredients, start=start, end=end)
    return {each.ingredient: each for each in found}


@_kept
def what_if_of(state: State, asked: str, dishes: tuple[str, ...], on: date) -> WhatIf:
    """Return what one change of price ("NAME=+10%") would do to dishes (none: all)."""
    return cost_if(_book(state[0]), [asked], dishes, on=on)


@_kept
def swaps_of(
    state: State, dish: str, on: date, version: str | None, target: float | None,
    keep: tuple[str, ...], least_disturbing: bool,
) -> Swaps:  # fmt: skip
    """Return the swaps of a dish; with a target, those that reach it."""
    return find_swaps(
        _book(state[0]), dish, on=on, version=version, target=target, keep=keep,
        least_disturbing=least_disturbing,
    )  # fmt: skip


@_kept
def swap_history_of(
    state: State, dish: str, ingredient: str, substitute: str, on: date, version: str | None,
    purchase: tuple[str | None, str | None, str | None],
) -> SwapHistory:  # fmt: skip
    """Return what a swap of a dish would have saved month by month."""
    return swap_history(
        _book(state[0]), dish, (ingredient, substitute), on=on, version=version, purchase=purchase
    )


@_kept
def till_of(
    state: State, dishes: tuple[tuple[str, float], ...], on: date, supplier: str | None,
    pantry: bool, version: tuple[str, str] | None,
) -> Till:  # fmt: skip
    """Return what a shop for dishes (each with its batches) costs; `version`: of one of them."""
    return shop_for(
        _book(state[0]), dishes, on=on, supplier=supplier, pantry=pantry,
        version=dict([version]) if version else None,
    )  # fmt: skip


@_kept
def catalogue_swaps_of(state: State, on: date) -> CatalogueSwaps:
    """Return the swaps over all dishes, and the dishes over their target."""
    return catalogue_swaps(_book(state[0]), on=on)


@_kept
def inflation_of(state: State, dishes: tuple[str, ...], start: str, end: str) -> Inflation:
    """Return the kitchen's own index of dishes (none: all) between two months (YYYY-MM)."""
    return measure_inflation(_book(state[0]), dishes, start=start, end=end)


@_kept
def season_of(state: State, name: str, dish: bool) -> Season:
    """Return the pattern of the year of an ingredient, or of a dish at today's prices."""
    book = _book(state[0])
    if dish:
        return season_of_dish(book, name, on=date.fromisoformat(state[3]))
    return season_of_ingredient(book, name)


@_kept
def rebased_of(state: State, amount: float, start: date) -> pd.DataFrame:
    """Return an amount of a month moved by official series, as `rebased_frame`."""
    end = date.fromisoformat(state[3]).replace(day=1)
    paths = rebased_paths(_book(state[0]), amount, start=start.replace(day=1), end=end)
    return rebased_frame(paths, settings_of(state).currency)


@_kept
def history_of(state: State, ingredient: str) -> PriceHistory:
    """Return the price history of an ingredient up to today."""
    return price_history(_book(state[0]), ingredient, on=date.fromisoformat(state[3]))


@_kept
def series_of(state: State) -> list[SeriesFacts]:
    """Return every official series, by id."""
    return list_series(_book(state[0]))


@_kept
def series_uses_of(state: State) -> dict[str, SeriesUse]:
    """Return who leans on each official series, at prices of today."""
    return series_uses(_book(state[0]), on=date.fromisoformat(state[3]))


@_kept
def shown_series_of(state: State, series: str) -> SeriesShown:
    """Return one official series in full."""
    return show_series(_book(state[0]), series)


@_kept
def dry_run_of(
    state: State, kind: str, name: str, data: bytes, replace: bool, unusual: bool,
    series: tuple[str, ...] = (), title: str | None = None,
) -> FileReport:  # fmt: skip
    """Return what loading a file would do to the book, without doing it."""
    return load_bytes(
        _book(state[0]), kind, name, data, today=date.fromisoformat(state[3]),
        dry_run=True, replace=replace, accept_unusual=unusual, series=series, title=title,
    )  # fmt: skip
