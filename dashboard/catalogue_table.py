"""The rows of the catalogue page: every dish then and now."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import pandas as pd
from pandas.io.formats.style import Styler

from dashboard.answers import percent, signed_money, signed_percent
from dashboard.dish_words import LEAST_SEEN
from dashboard.frames import figure
from pricing.money import show_money
from pricing.overview import DishThenAndNow

DISH, PRINTED, THEN, NOW = "Dish", "First printed", "Then", "Now"
CHANGE, RECIPE, TREND, MOVED = "Change", "By recipe", "Trend", "By index"

SORTS: dict[str, tuple[Callable[[DishThenAndNow], object], bool]] = {
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


def reworked(dish: DishThenAndNow) -> bool:
    """Tell whether the recipe changed: the dish's own version, or one of a sub-recipe."""
    return dish.then_version != dish.now_version or abs(dish.recipe_effect) >= LEAST_SEEN


def rests_on_an_index(dish: DishThenAndNow) -> bool:
    """Tell whether a price is missing now, or an index moved at least a hundredth of the cost."""
    return not dish.complete or (dish.share_bridged or 0.0) >= 0.01


def chosen(
    dishes: Sequence[DishThenAndNow],
    *,
    text: str = "",
    only_reworked: bool = False,
    only_moved: bool = False,
    sort: str = "name",
) -> list[DishThenAndNow]:
    """Return the dishes that pass the filters, in the order asked for."""
    words = text.casefold().split()
    kept = [
        dish
        for dish in dishes
        if all(word in dish.dish.casefold() for word in words)
        and (not only_reworked or reworked(dish))
        and (not only_moved or rests_on_an_index(dish))
    ]
    key, falling = SORTS[sort]
    return sorted(kept, key=key, reverse=falling)  # type: ignore[arg-type]


def catalogue_rows(
    dishes: Sequence[DishThenAndNow], trends: Mapping[str, list[float]]
) -> pd.DataFrame:
    """Return one row per dish; money in the book's currency, shares of 1."""
    return pd.DataFrame(
        {
            DISH: [dish.dish for dish in dishes],
            PRINTED: [dish.printed.cost_per_portion if dish.printed else None for dish in dishes],
            THEN: [dish.cost_then for dish in dishes],
            NOW: [dish.cost_now for dish in dishes],
            CHANGE: [dish.change for dish in dishes],
            RECIPE: [dish.recipe_effect for dish in dishes],
            TREND: [trends.get(dish.dish, []) for dish in dishes],
            MOVED: [dish.share_bridged for dish in dishes],
        }
    )


def in_words(frame: pd.DataFrame, dishes: Sequence[DishThenAndNow], currency: str) -> Styler:
    """Return the rows with their figures in words; sorting still goes by the figures."""
    words = {
        PRINTED: [printed_words(dish) for dish in dishes],
        THEN: [show_money(dish.cost_then, currency) for dish in dishes],
        NOW: [figure(dish.cost_now, dish.complete, currency) for dish in dishes],
        CHANGE: [
            f"{signed_money(dish.change, currency)} ({signed_percent(share_of_change(dish))})"
            for dish in dishes
        ],
        RECIPE: [
            "—" if abs(dish.recipe_effect) < LEAST_SEEN else signed_money(dish.recipe_effect, currency)
            for dish in dishes
        ],
        MOVED: [percent(dish.share_bridged) for dish in dishes],
    }
    style = frame.style
    for column, cells in words.items():  # a formatter is asked for the cells in their order
        style = style.format(_in_order(cells), subset=[column], na_rep=None)
    return style


def printed_words(dish: DishThenAndNow) -> str:
    """Return the first printed figure and its month: "$0.90, Oct 2013"."""
    if dish.printed is None:
        return "—"
    amount = show_money(dish.printed.cost_per_portion, dish.printed.currency)
    return f"{amount}, {dish.printed.published_on:%b %Y}"


def _in_order(cells: Sequence[str]) -> Callable[[object], str]:
    left = iter(cells)
    return lambda _: next(left)
