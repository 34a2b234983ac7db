"""How much the prices of ingredients swing from month to month, and how far bridges stand in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from pricing.answer import Answer
from pricing.book.connect import Book, reading
from pricing.book.read import read_settings
from pricing.clock import today
from pricing.contents.choices import find_ingredients, ingredients_in
from pricing.days import costing_days, month_range, read_month
from pricing.prices.rule import Rule, ask_cross, grid_columns


@dataclass(frozen=True, kw_only=True)
class Swing(Answer):
    """One ingredient over some months, at its typical price on the 15th of each."""

    ingredient: str
    months: int  # that have a price
    volatility_pct: float | None  # standard deviation of the month-to-month changes, log × 100
    largest_rise_pct: float | None  # from one month to the next
    largest_fall_pct: float | None
    bridged_share: float | None  # of the months with a price, those that an index moved


def price_swings(
    book: Book, ingredients: Sequence[str] | None = None, *, start: str, end: str
) -> list[Swing]:
    """Return the swings of ingredients (None or empty: all) from `start` to `end` (YYYY-MM).

    A month whose 15th is after today is left out. Three months in a row with a price are the least
    for a volatility: one change says nothing of how changes differ.
    Raises UnknownName, DateRefused, BookUnreadable.
    """
    import numpy as np

    days = costing_days(month_range(read_month(start), read_month(end)), today())
    with reading(book) as con:
        wanted = find_ingredients(con, ingredients) if ingredients else ingredients_in(con)
        if not days or not wanted:
            return []
        asked = ask_cross([each.ingredient_id for each in wanted], days)
        grid = grid_columns(con, Rule.of(read_settings(con)), asked)
    names = {each.ingredient_id: each.ingredient for each in wanted}
    shape = (len(names), len(days))
    prices = np.asarray(grid["unit_price"], dtype=float).reshape(shape)
    bridged = np.asarray(grid["bridged"], dtype=bool).reshape(shape)
    swings = []
    for row, ingredient_id in enumerate(sorted(names)):
        changes = np.diff(np.log(prices[row]))
        changes = changes[~np.isnan(changes)]
        known = int((~np.isnan(prices[row])).sum())
        swings.append(
            Swing(
                ingredient=names[ingredient_id],
                months=known,
                volatility_pct=100 * float(changes.std(ddof=1)) if len(changes) > 1 else None,
                largest_rise_pct=100 * float(np.expm1(changes.max())) if len(changes) else None,
                largest_fall_pct=100 * float(np.expm1(changes.min())) if len(changes) else None,
                bridged_share=float(bridged[row].sum()) / known if known else None,
            )
        )
    return swings
