"""Tables of ingredients: all, by their share of the mean cost; and the dishes that use one."""

from __future__ import annotations

from collections.abc import Sequence

import pandas as pd

from dashboard.words.figures import amount_words, percent
from dashboard.words.markdown import dish_link, ingredient_link, plain, unbroken
from pricing.change.drivers import Drivers
from pricing.contents.choices import ListedIngredient
from pricing.days import day_words
from pricing.dishes.uses import Use
from pricing.money import show_money


def ingredient_rows(known: Sequence[ListedIngredient], found: Drivers) -> pd.DataFrame:
    """Return every ingredient as a table of Markdown, those that cost most first."""
    costs = {each.ingredient: each for each in found.ingredients}
    rows = []
    for each in known:
        cost = costs.get(each.ingredient)
        rows.append(
            (
                -(cost.share_now or 0.0) if cost else 0.0,
                {
                    "Ingredient": ingredient_link(each.ingredient),
                    "Category": plain(each.category or "—"),
                    "Share of the mean cost": percent(cost.share_now) if cost else "—",
                    "Dishes": str(cost.dishes) if cost else "—",
                    "Prices": f"{each.prices:,}",
                    "Last seen": day_words(each.last_on) if each.last_on else "—",
                },
            )
        )
    rows.sort(key=lambda row: row[0])
    return pd.DataFrame([row for _, row in rows])


def use_rows(uses: Sequence[Use], base: str, currency: str) -> pd.DataFrame:
    """Return the dishes that use an ingredient, with what it costs in a portion."""
    return pd.DataFrame(
        [
            {
                "Dish": dish_link(use.dish),
                "In a portion, as purchased": unbroken(amount_words(use.quantity, base)),
                "Costs": unbroken(show_money(use.cost, currency)),
                "Share of the dish": unbroken("—" if use.share is None else percent(use.share)),
            }
            for use in uses
        ]
    )
