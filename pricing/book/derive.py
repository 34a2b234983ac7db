"""Keeps the derived tables (source, source_day, typical_day) in step with what they follow from."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import date
from types import MappingProxyType
from typing import Any

import duckdb

from pricing.book.price_rule import eligible, grid, grid_parameters
from pricing.book.read import read_settings, statement

# What queries/book/source_day.sql is asked for the kept tables: every price that is not an offer.
KEPT: Mapping[str, Any] = MappingProxyType(
    {
        "since": None,
        "region": None,
        "offers": False,
        "pack_amount": None,
        "pack_dimension": None,
        "pack_measure_key": None,
    }
)
_AT_ONCE = 100_000  # days of news worked out in one go, so that memory stays bounded


def refresh_prices(
    con: duckdb.DuckDBPyConnection,
    ingredient_ids: Collection[int] | None = None,
    *,
    since: date | None = None,
    whole: bool = False,
) -> None:
    """Derive the prices of the named ingredients anew (None: of all).

    Typical prices are worked out again from the first day on which a source asks something else
    than before; with `whole` from the beginning, as a changed fact of the ingredient wants it.
    `since`: what was appended is of that day or later; nothing was retracted, no fact changed.
    Call it in the transaction that appended or retracted observations, ingredient facts or
    measures, so that no reader ever sees the one without the other.
    """
    ids = None if ingredient_ids is None else sorted(set(ingredient_ids))
    part = {"ingredients": ids, "since": since}
    if since is not None and con.execute(statement("book/new_markets"), part).fetchone():
        part["since"] = None  # the sources of both markets as one begin with the first price
    con.execute(
        f"CREATE OR REPLACE TEMP TABLE fresh_day AS {statement('book/source_day')}",
        {**KEPT, **part},
    )
    con.execute(statement("book/new_sources"))
    con.execute(
        f"CREATE OR REPLACE TEMP TABLE news_since AS {statement('book/news_since')}",
        {**part, "whole": whole or ids is None},
    )
    con.execute(
        "DELETE FROM source_day WHERE ($since::DATE IS NULL OR observed_on >= $since) AND "
        "($ingredients::INTEGER[] IS NULL "
        "OR ingredient_id IN (SELECT unnest($ingredients::INTEGER[])))",
        part,
    )
    con.execute(
        "INSERT INTO source_day SELECT ingredient_id, source_id, observed_on, unit_price "
        "FROM fresh_day JOIN source "
        "USING (ingredient_id, currency, market, supplier_key, product_key) "
        "ORDER BY source_id, observed_on"
    )
    con.execute("DROP TABLE fresh_day")
    if part["since"] is None:
        _drop_priceless_sources(con, ids)
    _refresh_typical(con)


def _drop_priceless_sources(
    con: duckdb.DuckDBPyConnection, ingredient_ids: Collection[int] | None
) -> None:
    """Drop the sources whose prices were all taken back: they are in no market any more."""
    con.execute(
        "DELETE FROM source WHERE ($ingredients::INTEGER[] IS NULL "
        "OR ingredient_id IN (SELECT unnest($ingredients::INTEGER[]))) "
        "AND source_id NOT IN (SELECT source_id FROM source_day)",
        {"ingredients": ingredient_ids},
    )


def refresh_moved_prices(
    con: duckdb.DuckDBPyConnection,
    series: Collection[str] | None = None,
    since: date | None = None,
) -> None:
    """Work out anew the typical prices of what leans on one of some series (None: on any).

    `since` is the first month whose values changed; None: more than values did. Call it in the
    transaction that changed the series, or a setting that the price rule reads.
    """
    con.execute(
        f"CREATE OR REPLACE TEMP TABLE news_since AS {statement('book/leaning_on')}",
        {
            "series": None if series is None else sorted(series),
            "since": since,
            "food_series": read_settings(con).food_series,
        },
    )
    _refresh_typical(con)


def _refresh_typical(con: duckdb.DuckDBPyConnection) -> None:
    """Work typical_day out anew from the days on that news_since(ingredient_id, since) names."""
    con.execute(
        "DELETE FROM typical_day USING news_since n "
        "WHERE n.ingredient_id = typical_day.ingredient_id AND observed_on >= n.since"
    )
    _price_news(con, "typical_day")
    con.execute(statement("book/next_news"))
    con.execute("DROP TABLE news")
    con.execute("DROP TABLE news_since")


def _price_news(con: duckdb.DuckDBPyConnection, table: str) -> None:
    """Put the typical prices of the days that news_since names into a table: the rule's own."""
    con.execute(
        f"CREATE OR REPLACE TEMP TABLE news AS {statement('book/news_to_price')}",
        {"at_once": _AT_ONCE},
    )
    parts = con.execute(
        "SELECT DISTINCT currency, part FROM news ORDER BY currency, part"
    ).fetchall()
    for currency, part in parts:
        here = {"currency": currency, "part": part}
        con.execute(
            "CREATE OR REPLACE TEMP TABLE asked AS SELECT ingredient_id, observed_on AS on_date, "
            "market FROM news WHERE currency = $currency AND part = $part",
            here,
        )
        con.execute(
            f"INSERT INTO {table} {eligible(kept=False)} "
            "SELECT g.ingredient_id, n.currency, g.market, g.on_date, n.next_on, g.unit_price, "
            f"g.moved_share, g.as_seen FROM ({grid()}) g JOIN news n ON n.currency = $currency "
            "AND n.ingredient_id = g.ingredient_id AND n.market = g.market "
            "AND n.observed_on = g.on_date ORDER BY g.ingredient_id, g.market, g.on_date",
            {
                "currency": currency,
                "supplier": None,
                "without": [],
                "product": None,
                **grid_parameters(read_settings(con)),
            },
        )


def differing_prices(con: duckdb.DuckDBPyConnection) -> tuple[int, int]:
    """Return how many kept prices a fresh derivation lacks or has otherwise, and has not."""
    con.execute(
        f"CREATE OR REPLACE TEMP TABLE fresh_day AS {statement('book/source_day')}",
        {**KEPT, "ingredients": None},
    )
    con.execute(
        "CREATE OR REPLACE TEMP TABLE news_since AS "
        "SELECT ingredient_id, min(observed_on) AS since FROM source_day GROUP BY ingredient_id"
    )
    con.execute("CREATE OR REPLACE TEMP TABLE fresh_typical AS FROM typical_day LIMIT 0")
    _price_news(con, "fresh_typical")
    found = con.execute(statement("keeping/check_prices")).fetchone()
    for table in ("fresh_day", "fresh_typical", "news", "news_since"):
        con.execute(f"DROP TABLE {table}")
    missing, left_over = found or (0, 0)
    return int(missing), int(left_over)
