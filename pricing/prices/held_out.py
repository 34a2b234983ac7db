"""Holds prices out and lets the price rule itself work them out: how near did it come?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from pricing.book.connect import Connection
from pricing.book.price_rule import grid
from pricing.book.read import columns, statement
from pricing.prices.half_inside import HeldOut
from pricing.prices.rule import Rule, rule_parameters

MOST_CASES = 20_000  # days held out, so that a book of millions of prices is not asked for all


def own_cases(con: Connection, rule: Rule) -> int:
    """Lay out the book's own days of news as cases and return how many there are."""
    con.execute(
        f"CREATE OR REPLACE TEMP TABLE held_out AS {statement('prices/held_out_cases')}",
        {
            "currency": rule.currency,
            "market": rule.market,
            "fresh_days": rule.fresh_days,
            "moved_all": rule.food_series is not None,
            "most": MOST_CASES,
        },
    )
    return _count(con)


def given_cases(con: Connection, cases: Mapping[str, Sequence[Any]]) -> int:
    """Lay out cases of a caller's own: ingredient_id, on_date, d0, d1 (or None), truth."""
    con.execute(
        "CREATE OR REPLACE TEMP TABLE held_out AS SELECT "
        "unnest(range(1, len($on_date::DATE[]) + 1)) AS case_id, "
        "unnest($ingredient_id::INTEGER[]) AS ingredient_id, 'shop' AS market, "
        "unnest($on_date::DATE[]) AS on_date, unnest($d0::DATE[]) AS d0, "
        "unnest($d1::DATE[]) AS d1, unnest($truth::DOUBLE[]) AS truth",
        {name: list(values) for name, values in cases.items()},
    )
    return _count(con)


def held_out(con: Connection, rule: Rule, series: str | None = None) -> HeldOut:
    """Price every case laid out and return what came of it; with `series` only what that moved.

    The pricing is that of queries/prices/which_price_counts.sql: each case stands in the place of
    an ingredient.
    """
    con.execute(
        f"CREATE OR REPLACE TEMP TABLE eligible_day AS {statement('prices/held_out_days')}",
        {"currency": rule.currency},
    )
    for table, text in _LAID_OUT.items():
        con.execute(f"CREATE OR REPLACE TEMP TABLE {table} AS {text}")
    # a temporary view stands before the book's own of the same name
    con.execute("CREATE TEMP VIEW ingredient_now AS FROM case_series")
    try:
        con.execute(
            f"CREATE OR REPLACE TEMP TABLE bridged AS {grid()}",
            {**rule_parameters(rule, evidence=True), "kept": False},
        )
    finally:
        con.execute("DROP VIEW temp.ingredient_now")
    found = columns(
        con, "prices/held_out_errors", {"series": series, "fresh_days": rule.fresh_days}
    )
    return HeldOut(**found)


_LAID_OUT = {
    "eligible_source": "SELECT DISTINCT ingredient_id, market, source_id, NULL AS supplier, "
    "NULL AS product FROM eligible_day",
    "news_day": "SELECT case_id AS ingredient_id, market, d0 AS observed_on, d1 AS next_on, "
    "NULL::DOUBLE AS unit_price, NULL::DOUBLE AS moved_share FROM held_out UNION ALL "
    "SELECT case_id, market, d1, NULL, NULL, NULL FROM held_out WHERE d1 IS NOT NULL",
    "asked": "SELECT case_id AS ingredient_id, on_date, market FROM held_out",
    "case_series": "SELECT h.case_id AS ingredient_id, i.series FROM held_out h "
    "JOIN ingredient_now i ON i.ingredient_id = h.ingredient_id",
}


def _count(con: Connection) -> int:
    row = con.execute("SELECT count(*) FROM held_out").fetchone()
    return int((row or (0,))[0])
