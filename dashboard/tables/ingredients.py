"""The table of all ingredients, by their share of the mean cost of a portion."""

from __future__ import annotations

from collections.abc import Sequence

import pandas as pd

from dashboard.words.figures import percent
from dashboard.words.markdown import ingredient_link, plain
from pricing.change.drivers import Drivers
from pricing.contents.choices import ListedIngredient
from pricing.days import day_words


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
