"""The tables of the page of drivers: ingredients ranked, and what a change of price would do."""

from __future__ import annotations

from collections.abc import Mapping

import pandas as pd

from dashboard.words.drivers import driver_cells, driver_remark, what_if_cells
from dashboard.words.figures import signed_mean
from dashboard.words.markdown import dish_link, ingredient_link, plain, unbroken
from dashboard.words.states import PARTS
from pricing.change.drivers import Driver, Drivers
from pricing.change.what_if import WhatIf
from pricing.prices.swings import Swing

MOST_DRAWN = 10  # ingredients in the chart; the rest is one row
OTHERS = "all others"


def driver_parts(found: Drivers) -> pd.DataFrame:
    """Return the largest ingredients, then all others, as charts.drivers takes them."""
    first, left = found.ingredients[:MOST_DRAWN], found.ingredients[MOST_DRAWN:]
    amounts = [(each.ingredient, each.price_effect, each.recipe_effect) for each in first]
    if left:
        amounts.append(
            (
                f"{OTHERS} ({len(left)})",
                sum(each.price_effect for each in left),
                sum(each.recipe_effect for each in left),
            )
        )
    rows = []
    for name, *effects in amounts:
        for part, amount in zip(PARTS, effects, strict=True):
            shown = signed_mean(amount, found.currency)
            said = f"{name}: {shown} {part}"
            rows.append(
                {"ingredient": name, "part": part, "amount": amount, "shown": shown, "said": said}
            )
    return pd.DataFrame(rows, columns=["ingredient", "part", "amount", "shown", "said"])


def driver_rows(found: Drivers, swings: Mapping[str, Swing]) -> pd.DataFrame:
    """Return every ingredient, ranked, as a table of Markdown."""
    columns = [
        "Change", "By price", "By recipe", "Dishes", "Share now", "Price", "Official", "Swing",
        "Estimated",
    ]  # fmt: skip
    return pd.DataFrame(
        [
            {"Ingredient": ingredient_link(each.ingredient)}
            | dict(zip(columns, map(unbroken, _cells(each, swings, found.currency)), strict=True))
            | {"Remark": plain(driver_remark(each))}
            for each in found.ingredients
        ]
    )


def _cells(each: Driver, swings: Mapping[str, Swing], currency: str) -> list[str]:
    return driver_cells(each, swings.get(each.ingredient), currency)


def what_if_rows(found: WhatIf) -> pd.DataFrame:
    """Return every dish with and without the change, those that change most first."""
    columns = ["Costs now", "Would cost", "Change", "in %"]
    return pd.DataFrame(
        [
            {"Dish": dish_link(each.dish)}
            | dict(zip(columns, map(unbroken, what_if_cells(each, found.currency)), strict=True))
            for each in found.dishes
        ]
    )
