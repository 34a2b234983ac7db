"""The kitchen's own inflation: what its whole catalogue costs at fixed recipes, month by month."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from pricing.book.connect import Book, reading
from pricing.book.read import read_settings
from pricing.clock import today
from pricing.days import Day, costing_days, left_out_words, month_range, read_month_of
from pricing.dishes.recipes import find_dish
from pricing.errors import DateRefused
from pricing.inflation.records import Inflation
from pricing.prices.asked_rule import asked_rule


def measure_inflation(
    book: Book,
    dishes: Sequence[str] | None = None,
    *,
    start: Day,
    end: Day,
    market: str | None = None,
    not_supplier: Sequence[str] = (),
) -> Inflation:
    """Measure what one portion of every dish (None or empty: all) costs, on the 15th of each month.

    `start`, `end`: YYYY-MM. `index` keeps the recipes in force in the first month; it is one fixed
    basket, so any two months of it compare directly, and nothing is chained. `paasche` takes the
    recipes in force in its own month, `fisher` and `tornqvist` both. An ingredient that lacks a
    price in any month, by the price rule, is left out of all of them, and named.
    Drafts count in nothing, half-products (others take them, and they were never printed) only
    when they are named. `market` and `not_supplier` as in `cost_dish`.
    A month whose 15th is after today is left out, with a remark.
    Raises DateRefused (fewer than two months), UnknownName, RecipeRefused, BookUnreadable.
    """
    from pricing.inflation.kitchen_index import worked_out  # numpy and scipy only when needed
    from pricing.inflation.prepared import prepare

    months = month_range(read_month_of(start), read_month_of(end))
    kept = costing_days(months, today())
    if len(kept) < 2:
        raise DateRefused(
            f"Found the months {start} to {end}, of which {len(kept)} can be costed; expected two "
            "at least, whose 15th has been. Choose an earlier --from."
        )
    with reading(book) as con:
        settings = read_settings(con)
        rule = asked_rule(con, settings, market=market, not_supplier=not_supplier)
        ids = [find_dish(con, dish) for dish in dishes] if dishes else None
        found = prepare(con, settings, rule, ids, kept)
    return replace(worked_out(found), remarks=left_out_words(months, kept))
