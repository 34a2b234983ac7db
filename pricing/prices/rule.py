"""Lays out the temporary tables that queries/prices/price_grid.sql reads, and runs it."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from typing import Any

from pricing.book.connect import Connection
from pricing.book.derive import KEPT
from pricing.book.read import rows, statement
from pricing.measures.quantities import Quantity
from pricing.names import name_key

# Where so few days are asked about so many ingredients, the rows near those days are drawn first:
# two days of 1,000 ingredients with 4 million stream-days then take a third of the time.
_FEW_DAYS, _MANY_PAIRS = 4, 200


@dataclass(frozen=True, kw_only=True)
class Rule:
    """Which observations may count, and whether official series may move them."""

    currency: str  # ISO 4217
    fresh_days: int = 45  # a price seen within so many days counts as it is
    basis: str = "bridged"  # or "observed"
    supplier: str | None = None
    region: str | None = None
    offers: bool = False
    product: str | None = None
    pack: Quantity | None = None


def ask_pairs(con: Connection, pairs: Collection[tuple[int, date]]) -> None:
    """Say which (ingredient, date) pairs are asked about."""
    wanted = sorted(set(pairs))
    con.execute(
        "CREATE OR REPLACE TEMP TABLE asked AS "
        "SELECT unnest($ids::INTEGER[]) AS ingredient_id, unnest($days::DATE[]) AS on_date",
        {"ids": [pair[0] for pair in wanted], "days": [pair[1] for pair in wanted]},
    )


def ask_cross(con: Connection, ingredient_ids: Collection[int], days: Collection[date]) -> None:
    """Say that every one of the ingredients is asked about on every day."""
    con.execute(
        "CREATE OR REPLACE TEMP TABLE asked AS SELECT ingredient_id, on_date "
        "FROM (SELECT unnest($ids::INTEGER[]) AS ingredient_id), "
        "(SELECT unnest($days::DATE[]) AS on_date)",
        {"ids": sorted(set(ingredient_ids)), "days": sorted(set(days))},
    )


def lay_out(con: Connection, rule: Rule) -> None:
    """Make eligible_stream and eligible_day: the kept stream-days, or ones made for a filter."""
    if rule.region is None and not rule.offers and rule.pack is None:
        streams, days = "stream", "stream_day"
    else:  # the kept table knows neither regions nor offers nor packs
        ids = con.execute("SELECT list(DISTINCT ingredient_id) FROM asked").fetchall()[0][0]
        con.execute(
            "CREATE OR REPLACE TEMP TABLE filtered_day AS SELECT *, dense_rank() OVER (ORDER BY "
            "ingredient_id, currency, supplier_key, product_key)::INTEGER AS stream_id "
            f"FROM ({statement('book/stream_day')})",
            {
                **KEPT,
                "ingredients": ids or [],
                "region": None if rule.region is None else name_key(rule.region),
                "offers": rule.offers,
                **_pack(rule),
            },
        )
        streams = days = "filtered_day"
    con.execute(
        "CREATE OR REPLACE TEMP TABLE eligible_stream AS "
        f"SELECT DISTINCT ingredient_id, stream_id, supplier_key, product_key FROM {streams} "
        "WHERE currency = $currency AND ($supplier::VARCHAR IS NULL OR supplier_key = $supplier) "
        "AND ($product::VARCHAR IS NULL OR product_key = $product) "
        "AND ingredient_id IN (SELECT ingredient_id FROM asked)",
        {
            "currency": rule.currency,
            "supplier": None if rule.supplier is None else name_key(rule.supplier),
            "product": None if rule.product is None else name_key(rule.product),
        },
    )
    con.execute(
        "CREATE OR REPLACE TEMP VIEW eligible_day AS "
        f"SELECT d.ingredient_id, d.stream_id, d.observed_on, d.unit_price FROM {days} d "
        "JOIN eligible_stream s ON s.stream_id = d.stream_id"
    )
    _draw_near(con, rule)


def _pack(rule: Rule) -> dict[str, Any]:
    if rule.pack is None:
        return {}
    return {
        "pack_amount": f"{rule.pack.amount:f}",
        "pack_dimension": rule.pack.dimension,
        "pack_measure_key": rule.pack.measure_key,
    }


def _draw_near(con: Connection, rule: Rule) -> None:
    """Put the rows near the asked days in the place of all, where that is the shorter way."""
    found = con.execute("SELECT count(DISTINCT on_date), count(*) FROM asked").fetchone()
    days, pairs = found or (0, 0)
    if days > _FEW_DAYS or pairs < _MANY_PAIRS:
        return
    con.execute(
        f"CREATE OR REPLACE TEMP TABLE near_day AS {statement('prices/near_days')}",
        {"fresh_days": rule.fresh_days},
    )
    con.execute("CREATE OR REPLACE TEMP VIEW eligible_day AS FROM near_day")


def _parameters(rule: Rule, *, evidence: bool) -> dict[str, Any]:
    return {
        "fresh_days": rule.fresh_days,
        "bridging": rule.basis == "bridged",
        "evidence": evidence,
    }


def grid_rows(con: Connection, rule: Rule, *, evidence: bool) -> list[dict[str, Any]]:
    """Price what was asked and return the statement's rows as dictionaries."""
    lay_out(con, rule)
    return rows(con, "prices/price_grid", _parameters(rule, evidence=evidence))


def stream_columns(con: Connection, rule: Rule) -> dict[str, Any]:
    """Return the fresh price of every stream on every asked day, as numpy arrays.

    ingredient_id, stream_id, on_date, unit_price; only streams seen within the fresh limit. Call it
    after `grid_columns` or `grid_rows`, which lay out what it reads.
    """
    columns: dict[str, Any] = con.execute(
        statement("prices/stream_prices"), {"fresh_days": rule.fresh_days}
    ).fetchnumpy()
    return columns


def grid_columns(con: Connection, rule: Rule) -> dict[str, Any]:
    """Price what was asked; return unit_price (NaN = missing), bridged and held as numpy arrays.

    Held: an observed price older than the fresh limit, as it was. Each array has one element per
    asked pair, ordered by ingredient, then date.
    """
    lay_out(con, rule)
    columns: dict[str, Any] = con.execute(
        "SELECT coalesce(unit_price, 'nan'::DOUBLE) AS unit_price, basis = 'bridged' AS bridged, "
        "basis = 'observed' AND on_date - d0 > $fresh_days AS held "
        f"FROM ({statement('prices/price_grid')}) ORDER BY ingredient_id, on_date",
        _parameters(rule, evidence=False),
    ).fetchnumpy()
    return columns
