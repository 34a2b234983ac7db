"""The one place where the pages keep what they read: everything hangs on the state of the book."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from types import MappingProxyType
from typing import Any

import pandas as pd

from dashboard.tables.dish import drift_frame, rebased_frame
from dashboard.views.book import (
    State,
    book_of,
    day_of,
    kept,
    kept_of_book,
    shared_of_book,
    today_of,
    whose,
)
from dashboard.views.chosen_file import ChosenFile
from ingest.load import FileReport
from pricing.book.keeping.info import info
from pricing.book.read import Settings
from pricing.change.compare import compare
from pricing.change.drivers import Drivers, rank_drivers
from pricing.change.overview import DishThenAndNow, then_and_now
from pricing.change.records import Comparison, When
from pricing.change.what_if import WhatIf, cost_if
from pricing.contents.choices import (
    ListedDish,
    ListedIngredient,
    list_dishes,
    list_ingredients,
    list_suppliers,
)
from pricing.contents.printed import PrintedFigure, list_printed, printed_recipe_day
from pricing.contents.series import SeriesFacts, SeriesShown, list_series, show_series
from pricing.contents.settings import book_settings
from pricing.days import month_text
from pricing.dishes.cost import DishCost, cost_dish
from pricing.dishes.drift import drift, drift_points
from pricing.dishes.uses import Use, dishes_with
from pricing.inflation.measure import measure_inflation
from pricing.inflation.records import Inflation
from pricing.prices.history import PriceHistory, price_history
from pricing.prices.series_use import SeriesUse, series_uses
from pricing.prices.swings import Swing, price_swings
from pricing.printed.check import check_printed
from pricing.printed.records import CheckedFigures
from pricing.printed.said_and_known import SaidAndKnown, said_and_known
from pricing.season.season import Season, season_of_dish, season_of_ingredient
from pricing.series.moved_amount import rebased_paths

TREND_POINTS = 60  # of a small trend line


@kept_of_book
def settings_of(state: State) -> Settings:
    """Return what the book decides for itself."""
    return book_settings(book_of(state))


@kept_of_book
def info_of(state: State) -> dict[str, Any]:
    """Return what the book holds, as `info` has it."""
    return info(book_of(state))


@kept_of_book
def dishes_of(state: State) -> list[ListedDish]:
    """Return every dish with its versions, by name."""
    return list_dishes(book_of(state))


@kept_of_book
def ingredients_of(state: State) -> list[ListedIngredient]:
    """Return every ingredient, by name."""
    return list_ingredients(book_of(state))


@kept_of_book
def suppliers_of(state: State) -> list[str]:
    """Return every supplier, by name."""
    return list_suppliers(book_of(state))


def printed_of(state: State, dish: str) -> list[PrintedFigure]:
    """Return the printed figures of a dish, by date. Of many dishes: ask `figures_by_dish`."""
    return list(figures_by_dish(state).get(dish, ()))


@shared_of_book
def figures_by_dish(state: State) -> Mapping[str, tuple[PrintedFigure, ...]]:
    """Return the printed figures of every dish that has one, by date: one reading for all."""
    found: dict[str, list[PrintedFigure]] = {}
    for figure in list_printed(book_of(state)):
        found.setdefault(figure.dish, []).append(figure)
    return MappingProxyType({dish: tuple(figures) for dish, figures in found.items()})


@kept_of_book
def catalogue_of(state: State) -> list[DishThenAndNow]:
    """Return every dish then and now."""
    return then_and_now(book_of(state), on=day_of(state), **whose(state))


@kept_of_book
def trends_of(state: State, start: str) -> dict[str, list[float]]:
    """Return each dish's cost per portion since the month `start`, thinned to a small line.

    Without the months in which a price is missing: their figures are only at least.
    """
    points = drift(book_of(state), start=start, end=_this_month(state), **whose(state))
    points = points[points["complete"]]
    return {
        str(dish): costs[:: -max(1, -(-len(costs) // TREND_POINTS))][::-1]
        for dish, costs in points.groupby("dish")["cost_per_portion"].agg(list).items()
    }


def drift_of(state: State, dish: str, start: str, version: str | None) -> pd.DataFrame:
    """Return a dish's cost month by month from `start` (YYYY-MM) to the day, as `drift_frame`."""
    points = _drift_of_month(_first_of_month(state), dish, start, version)
    return points[points["on"].dt.date <= day_of(state)]


@kept
def _drift_of_month(state: State, dish: str, start: str, version: str | None) -> pd.DataFrame:
    book, end = book_of(state), _this_month(state)
    found = drift_points(book, [dish], start=start, end=end, version=version, **whose(state))
    return drift_frame(found)


def _first_of_month(state: State) -> State:
    """Return the state for questions to which every day of a month has the same answer."""
    return (*state[:3], day_of(state).replace(day=1).isoformat(), *state[4:])


def _this_month(state: State) -> str:
    return month_text(day_of(state))


@kept
def cost_of(
    state: State, dish: str, on: date, version: str | None, recipe_day: date | None = None,
    scaled_to: float | None = None,
) -> DishCost:  # fmt: skip
    """Return a dish costed on a date."""
    return cost_dish(
        book_of(state), dish, on=on, version=version, recipe_day=recipe_day, scaled_to=scaled_to,
        **whose(state),
    )  # fmt: skip


@kept
def change_of(state: State, dish: str, then: When, now: When) -> Comparison:
    """Return a dish then and now; a printed figure of then keeps the sub-recipes of its day."""
    recipe_day = None
    if not isinstance(then, date):
        recipe_day = printed_recipe_day(printed_of(state, dish), dish, *then)
    return compare(book_of(state), dish, then=then, now=now, recipe_day=recipe_day, **whose(state))


@kept
def checked_figures_of(state: State, tolerance_pct: float, dish: str | None) -> CheckedFigures:
    """Return every printed figure checked today, those of one dish if it is named."""
    on = day_of(state)
    found = check_printed(book_of(state), on=on, tolerance_pct=tolerance_pct)
    if dish is None:
        return found
    return replace(found, figures=tuple(each for each in found.figures if each.dish == dish))


@kept_of_book
def said_of(state: State) -> list[SaidAndKnown]:
    """Return every figure with kept evidence: what we said beside what we know now."""
    return said_and_known(book_of(state))


@kept_of_book
def drivers_of(state: State, dishes: tuple[str, ...], then: date, now: date) -> Drivers:
    """Return the ingredients ranked by what they added to the mean cost of dishes (none: all)."""
    return rank_drivers(book_of(state), dishes, then=then, now=now, **whose(state))


@kept_of_book
def swings_of(state: State, ingredients: tuple[str, ...], start: str, end: str) -> dict[str, Swing]:
    """Return how the prices of ingredients swing between two months, by ingredient."""
    found = price_swings(book_of(state), ingredients, start=start, end=end)
    return {each.ingredient: each for each in found}


@kept_of_book
def what_if_of(state: State, asked: tuple[str, ...], dishes: tuple[str, ...], on: date) -> WhatIf:
    """Return what changes of price ("NAME=+10%") would do to dishes (none: all)."""
    return cost_if(book_of(state), asked, dishes, on=on, **whose(state))


@kept_of_book
def inflation_of(state: State, dishes: tuple[str, ...], start: str, end: str) -> Inflation:
    """Return the kitchen's own index of dishes (none: all) between two months (YYYY-MM)."""
    return measure_inflation(book_of(state), dishes, start=start, end=end, **whose(state))


@kept
def season_of(state: State, name: str, dish: bool) -> Season:
    """Return the pattern of the year of an ingredient, or of a dish at today's prices."""
    book = book_of(state)
    if dish:
        return season_of_dish(book, name, on=day_of(state))
    return season_of_ingredient(book, name)


@kept
def rebased_of(state: State, amount: float, start: date) -> pd.DataFrame:
    """Return an amount of a month moved by official series, as `rebased_frame`."""
    end = day_of(state).replace(day=1)
    paths = rebased_paths(book_of(state), amount, start=start.replace(day=1), end=end)
    return rebased_frame(paths, settings_of(state).currency)


@kept
def history_of(state: State, ingredient: str) -> PriceHistory:
    """Return the price history of an ingredient up to today."""
    return price_history(book_of(state), ingredient, on=day_of(state))


@kept
def uses_of(state: State, ingredient: str) -> list[Use]:
    """Return the dishes that use an ingredient."""
    return dishes_with(book_of(state), ingredient, on=day_of(state), **whose(state))


@kept_of_book
def series_of(state: State) -> list[SeriesFacts]:
    """Return every official series, by id."""
    return list_series(book_of(state))


@kept_of_book
def series_uses_of(state: State) -> dict[str, SeriesUse]:
    """Return who leans on each official series, at prices of today."""
    return series_uses(book_of(state), on=day_of(state))


@kept
def shown_series_of(state: State, series: str) -> SeriesShown:
    """Return one official series in full."""
    return show_series(book_of(state), series)


@kept_of_book
def dry_run_of(state: State, file: ChosenFile) -> FileReport:
    """Return what loading a file would do to the book, without doing it."""
    return file.load_into(book_of(state), today=today_of(state), dry_run=True)
