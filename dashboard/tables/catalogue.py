"""The rows of the catalogue page: every dish then and now."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

import pandas as pd

from dashboard.tables.sought import holds_every_word
from dashboard.words.figures import percent, signed_money, signed_percent
from dashboard.words.markdown import dish_link, plain
from pricing.change.overview import DishThenAndNow
from pricing.change.shown import shown
from pricing.days import month_words
from pricing.money import least_shown, show_money

DISH, PRINTED, DATE, THEN, NOW = "Dish", "Printed", "Printed in", "Then", "Now"
CHANGE, PERCENT, RECIPE = "Change", "in %", "By recipe"
TREND, MOVED = "Trend", "Estimated"

SORTS: dict[str, tuple[Callable[[DishThenAndNow], Any], bool]] = {
    "name": (lambda dish: dish.dish.casefold(), False),
    "largest rise": (lambda dish: dish.change, True),
    "largest rise in %": (lambda dish: share_of_change(dish) or 0.0, True),
    "cost now": (lambda dish: dish.cost_now, True),
    "most by the recipe": (lambda dish: abs(dish.recipe_effect), True),
    "first printed": (lambda dish: dish.then_on, False),
}


def share_of_change(dish: DishThenAndNow) -> float | None:
    """Return the change as a share of the cost then."""
    return dish.change / dish.cost_then if dish.cost_then > 0 else None


def reworked(dish: DishThenAndNow, currency: str) -> bool:
    """Tell whether the recipe changed: the dish's own version, or one of a sub-recipe."""
    changed = abs(dish.recipe_effect) >= least_shown(currency)
    return dish.then_version != dish.now_version or changed


def rests_on_a_series(dish: DishThenAndNow) -> bool:
    """Tell whether a price is missing, or a series moved at least a hundredth of the cost."""
    return not dish.complete or (dish.share_bridged or 0.0) >= 0.01


def chosen(
    dishes: Sequence[DishThenAndNow],
    *,
    currency: str,
    text: str = "",
    only_reworked: bool = False,
    only_moved: bool = False,
    sort: str = "name",
) -> list[DishThenAndNow]:
    """Return the dishes that pass the filters, in the order asked for."""
    kept = [
        dish
        for dish in dishes
        if holds_every_word(dish.dish, text)
        and (not only_reworked or reworked(dish, currency))
        and (not only_moved or rests_on_a_series(dish))
    ]
    key, falling = SORTS[sort]
    return sorted(kept, key=key, reverse=falling)


def catalogue_rows(
    dishes: Sequence[DishThenAndNow], trends: Mapping[str, list[float]], currency: str
) -> pd.DataFrame:
    """Return one row per dish; money in the book's currency, shares of 1."""
    shown_figures = [
        shown(currency, dish.cost_then, dish.cost_moved, dish.cost_now) for dish in dishes
    ]
    return pd.DataFrame(
        {
            DISH: [f"{dish.dish} (draft)" if dish.draft else dish.dish for dish in dishes],
            PRINTED: [dish.printed.cost_per_portion if dish.printed else None for dish in dishes],
            DATE: [dish.printed.published_on if dish.printed else None for dish in dishes],
            # the figures as shown on every page, so that a reader can subtract
            THEN: [float(figures.then) for figures in shown_figures],
            NOW: [float(figures.now) for figures in shown_figures],
            CHANGE: [float(figures.change) for figures in shown_figures],
            PERCENT: [share_of_change(dish) for dish in dishes],
            RECIPE: [float(figures.by_recipe) for figures in shown_figures],
            TREND: [trends.get(dish.dish, []) for dish in dishes],
            MOVED: [dish.share_bridged for dish in dishes],
        }
    )


def in_words(frame: pd.DataFrame, dishes: Sequence[DishThenAndNow], currency: str) -> pd.DataFrame:
    """Return the rows in words (≥: at least), each dish leading to its page."""
    least = ["" if dish.complete else "≥ " for dish in dishes]
    shown = {
        DISH: [dish_link(dish.dish) + (" (draft)" if dish.draft else "") for dish in dishes],
        PRINTED: [
            show_money(dish.printed.cost_per_portion, dish.printed.currency)
            if dish.printed
            else "—"
            for dish in dishes
        ],
        DATE: [month_words(day) if day is not None else "—" for day in frame[DATE]],
        TREND: list(frame[TREND]),
        CHANGE: [signed_money(amount, currency) for amount in frame[CHANGE]],
        PERCENT: [_or_dash(share, signed_percent) for share in frame[PERCENT]],
        RECIPE: [_recipe_words(amount, currency) for amount in frame[RECIPE]],
        MOVED: [_or_dash(share, percent) for share in frame[MOVED]],
    }
    for column in (THEN, NOW):
        shown[column] = [
            mark + show_money(amount, currency)
            for mark, amount in zip(least, frame[column], strict=True)
        ]
    return pd.DataFrame({column: shown[column] for column in frame.columns}).map(
        lambda each: plain(each) if isinstance(each, str) and not each.startswith("[") else each
    )


def _recipe_words(amount: float, currency: str) -> str:
    return "—" if abs(amount) < least_shown(currency) else signed_money(amount, currency)


def _or_dash(value: float | None, words: Callable[[float], str]) -> str:
    return "—" if value is None or pd.isna(value) else words(value)
