"""The tables of the page of drivers: ingredients ranked, and what a change of price would do."""

from __future__ import annotations

from collections.abc import Mapping

import pandas as pd

from dashboard.words.drivers import cents_words, driver_remark
from dashboard.words.figures import figure, percent, signed_fine, signed_percent, signed_tenths
from dashboard.words.markdown import link, plain, unbroken
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
            shown = f"{cents_words(amount)} cents"
            said = f"{name}: {shown} {part}"
            rows.append(
                {"ingredient": name, "part": part, "amount": amount, "shown": shown, "said": said}
            )
    return pd.DataFrame(rows, columns=["ingredient", "part", "amount", "shown", "said"])


def driver_rows(found: Drivers, swings: Mapping[str, Swing]) -> pd.DataFrame:
    """Return every ingredient, ranked, as a table of Markdown."""
    return pd.DataFrame([_row(each, swings.get(each.ingredient)) for each in found.ingredients])


def _row(each: Driver, swing: Swing | None) -> dict[str, str]:
    swings = None if swing is None else swing.volatility_pct
    return {
        "Ingredient": link(each.ingredient, "prices", ingredient=each.ingredient),
        "Cents": unbroken(cents_words(each.contribution)),
        "By price": unbroken(cents_words(each.price_effect)),
        "By recipe": unbroken(cents_words(each.recipe_effect)),
        "Dishes": f"{each.dishes:,}",
        "Share now": unbroken(percent(each.share_now)),
        "Price": unbroken(_change(each.price_relative)),
        "Official": unbroken(_change(each.official_relative)),
        "Swing": "—" if swings is None else unbroken(f"{swings:.1f} %"),
        "By index": unbroken(percent(swing.bridged_share if swing else None)),
        "Remark": plain(driver_remark(each)),
    }


def _change(relative: float | None) -> str:
    return signed_percent(None if relative is None else relative - 1)


def what_if_rows(found: WhatIf) -> pd.DataFrame:
    """Return every dish with and without the change, those that change most first."""
    money = found.currency
    return pd.DataFrame(
        [
            {
                "Dish": link(each.dish, "dish", dish=each.dish),
                "Costs now": unbroken(figure(each.cost_now, each.complete, money)),
                "Would cost": unbroken(figure(each.cost_if, each.complete, money)),
                "Change": unbroken(signed_fine(each.change, money)),
                "in %": unbroken(
                    signed_tenths(each.change / each.cost_now) if each.cost_now > 0 else "—"
                ),
            }
            for each in found.dishes
        ]
    )
