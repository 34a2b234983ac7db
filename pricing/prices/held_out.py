"""Holds prices out and lets the price rule itself bridge them: how good was the bridge?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from pricing.book.connect import Connection
from pricing.book.read import rows, statement
from pricing.prices.rule import Rule, grid_parameters

MOST_CASES = 20_000  # days held out, so that a book of millions of prices is not asked for all


def own_cases(
    con: Connection, currency: str, fresh_days: int, ingredients: Sequence[int] | None
) -> int:
    """Lay out the book's own observed days as cases and return how many there are."""
    con.execute(
        f"CREATE OR REPLACE TEMP TABLE held_out AS {statement('prices/held_out_cases')}",
        {
            "currency": currency,
            "fresh_days": fresh_days,
            "ingredients": None if ingredients is None else list(ingredients),
            "most": MOST_CASES,
        },
    )
    return _count(con)


def given_cases(con: Connection, columns: Mapping[str, Sequence[Any]]) -> int:
    """Lay out cases of a caller's own: ingredient_id, on_date, d0, d1 (or None), truth."""
    con.execute(
        "CREATE OR REPLACE TEMP TABLE held_out AS SELECT "
        "unnest(range(1, len($on_date::DATE[]) + 1)) AS case_id, "
        "unnest($ingredient_id::INTEGER[]) AS ingredient_id, "
        "unnest($on_date::DATE[]) AS on_date, unnest($d0::DATE[]) AS d0, "
        "unnest($d1::DATE[]) AS d1, unnest($truth::DOUBLE[]) AS truth",
        {name: list(values) for name, values in columns.items()},
    )
    return _count(con)


def errors(
    con: Connection, currency: str, fresh_days: int, edges: Sequence[int], series: str | None = None
) -> list[dict[str, Any]]:
    """Bridge every case laid out and return the rows of queries/prices/held_out_errors.sql.

    The bridging is that of queries/prices/which_price_counts.sql: each case stands in the place of
    an ingredient.
    """
    words = {"currency": currency, "fresh_days": fresh_days}
    con.execute(
        f"CREATE OR REPLACE TEMP TABLE eligible_day AS {statement('prices/held_out_days')}", words
    )
    con.execute(
        "CREATE OR REPLACE TEMP TABLE eligible_stream AS SELECT DISTINCT ingredient_id, stream_id "
        "FROM eligible_day"
    )
    con.execute(
        "CREATE OR REPLACE TEMP TABLE asked AS "
        "SELECT case_id AS ingredient_id, on_date FROM held_out"
    )
    con.execute(
        "CREATE OR REPLACE TEMP TABLE case_series AS SELECT h.case_id AS ingredient_id, i.series "
        "FROM held_out h JOIN ingredient_now i ON i.ingredient_id = h.ingredient_id"
    )
    # a temporary view stands before the book's own of the same name
    con.execute("CREATE TEMP VIEW ingredient_now AS FROM case_series")
    try:
        con.execute(
            f"CREATE OR REPLACE TEMP TABLE bridged AS {statement('prices/which_price_counts')}",
            grid_parameters(Rule(currency=currency, fresh_days=fresh_days)),
        )
    finally:
        con.execute("DROP VIEW temp.ingredient_now")
    return rows(con, "prices/held_out_errors", {"series": series, "edges": list(edges)})


def _count(con: Connection) -> int:
    row = con.execute("SELECT count(*) FROM held_out").fetchone()
    return int((row or (0,))[0])
