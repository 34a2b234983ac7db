"""Keeps the derived tables (stream, stream_day) in step with the observations."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Any

import duckdb

from pricing.book.read import statement

# What queries/book/stream_day.sql is asked for the kept table: every price that is not an offer.
KEPT: Mapping[str, Any] = MappingProxyType(
    {
        "region": None,
        "offers": False,
        "pack_amount": None,
        "pack_dimension": None,
        "pack_measure_key": None,
    }
)


def refresh_streams(
    con: duckdb.DuckDBPyConnection, ingredient_ids: Sequence[int] | None = None
) -> None:
    """Derive the stream-day prices of the named ingredients anew (None: of all).

    Call it in the transaction that appended or retracted observations, ingredient facts or
    measures, so that no reader ever sees the one without the other.
    """
    wanted = None if ingredient_ids is None else sorted(set(ingredient_ids))
    con.execute(
        f"CREATE OR REPLACE TEMP TABLE fresh_day AS {statement('book/stream_day')}",
        {**KEPT, "ingredients": wanted},
    )
    con.execute(
        """INSERT INTO stream
           SELECT (SELECT coalesce(max(stream_id), 0) FROM stream) + row_number()
                  OVER (ORDER BY ingredient_id, currency, supplier_key, product_key), *
           FROM (SELECT DISTINCT ingredient_id, currency, supplier_key, product_key FROM fresh_day
                 EXCEPT
                 SELECT ingredient_id, currency, supplier_key, product_key FROM stream)"""
    )
    if wanted is None:
        con.execute("DELETE FROM stream_day")
    else:
        con.execute(
            "DELETE FROM stream_day WHERE ingredient_id IN (SELECT unnest($ids::INTEGER[]))",
            {"ids": wanted},
        )
    con.execute(
        """INSERT INTO stream_day
           SELECT ingredient_id, stream_id, observed_on, unit_price
           FROM fresh_day JOIN stream USING (ingredient_id, currency, supplier_key, product_key)
           ORDER BY stream_id, observed_on"""
    )
    con.execute("DROP TABLE fresh_day")
