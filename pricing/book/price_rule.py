"""The parts of the price rule's statement (which_price_counts.sql): what it reads and is told."""

from __future__ import annotations

from typing import Any

from pricing.book.read import statement

USABLE_MONTHS = 3  # a value of a series counts for its month and so many after it (design §5)

# Reads asked. Parameters: $currency, $supplier (key to keep, or NULL for all), $without (keys of
# suppliers to leave out), $product (key to keep, or NULL for all).
_ELIGIBLE = """
eligible_source AS MATERIALIZED (
    SELECT DISTINCT source_id, ingredient_id, market, supplier, product FROM {sources}
    WHERE currency = $currency AND ($supplier::VARCHAR IS NULL OR supplier_key = $supplier)
      AND NOT list_contains($without::VARCHAR[], supplier_key)
      AND ($product::VARCHAR IS NULL OR product_key = $product)
      AND ingredient_id IN (SELECT ingredient_id FROM asked)
),
eligible_day AS NOT MATERIALIZED (
    SELECT s.ingredient_id, s.market, d.source_id, d.observed_on, d.unit_price
    FROM {days} d JOIN eligible_source s ON s.source_id = d.source_id
)"""
_NEWS_KEPT = """
news_day AS NOT MATERIALIZED (
    SELECT ingredient_id, market, observed_on, next_on,
           if($bridging, unit_price, as_seen) AS unit_price,
           if($bridging, moved_share, 0) AS moved_share
    FROM typical_day
    WHERE currency = $currency AND ingredient_id IN (SELECT ingredient_id FROM asked)
)"""
_NEWS_UNPRICED = """
news_day AS MATERIALIZED (
    SELECT *, lead(observed_on) OVER (PARTITION BY ingredient_id, market
                                      ORDER BY observed_on) AS next_on,
           NULL::DOUBLE AS unit_price, NULL::DOUBLE AS moved_share
    FROM (SELECT DISTINCT ingredient_id, market, observed_on FROM eligible_day)
)"""


def eligible(*, kept: bool, sources: str = "source", days: str = "source_day") -> str:
    """Return a WITH clause of what may count: eligible_source, eligible_day and news_day.

    `kept`: the days of news with their kept typical prices; only where no filter is set.
    """
    laid_out = _ELIGIBLE.format(sources=sources, days=days)
    return f"WITH {laid_out}, {_NEWS_KEPT if kept else _NEWS_UNPRICED}"


def grid() -> str:
    """Return the rule itself, to stand after `eligible`."""
    return statement("prices/which_price_counts")


_OF_THE_BOOK = ("market", "fresh_days", "half_life_days", "food_series")


def grid_parameters(told: object, **others: Any) -> dict[str, Any]:
    """Return what the rule is told by the settings of a book, or by a rule that has the same names.

    `others` say otherwise. Unless they do, it works out typical prices anew and lists no evidence.
    """
    return {
        **{name: getattr(told, name) for name in _OF_THE_BOOK},
        "usable_months": USABLE_MONTHS,
        "bridging": True,
        "as_known": False,
        "kept": False,
        "evidence": False,
        **others,
    }
