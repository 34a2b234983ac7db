"""Runs queries/prices/which_price_counts.sql: lays out what is asked and what may count."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from pricing.book.connect import Connection
from pricing.book.derive import KEPT
from pricing.book.read import Settings, dictionaries, statement
from pricing.measures.quantities import Quantity
from pricing.names import name_key
from pricing.series.month_value import USABLE_MONTHS

# Where so few days are asked about so many ingredients, the rows near those days are drawn first:
# two days of 1,000 ingredients with 4 million stream-days then take a third of the time.
_FEW_DAYS, _MANY_PAIRS = 4, 200

# What may count of the streams and stream-days in two tables; it stands before every statement that
# reads them by these names, so that no table of them has to be made for one question.
_ELIGIBLE = """
WITH eligible_stream AS MATERIALIZED (
    SELECT DISTINCT ingredient_id, stream_id, supplier_key, product_key FROM {streams}
    WHERE currency = $currency
      AND ($supplier::VARCHAR IS NULL OR supplier_key = $supplier)
      AND ($product::VARCHAR IS NULL OR product_key = $product)
      AND ingredient_id IN (SELECT ingredient_id FROM asked)
),
eligible_day AS NOT MATERIALIZED (
    SELECT d.ingredient_id, d.stream_id, d.observed_on, d.unit_price
    FROM {days} d JOIN eligible_stream s ON s.stream_id = d.stream_id
)"""


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

    @classmethod
    def of(cls, book: Settings, **others: Any) -> Rule:
        """Return the rule of a book's settings; `others` are fields that shall be otherwise."""
        return replace(cls(currency=book.currency, fresh_days=book.fresh_days), **others)


@dataclass(frozen=True, kw_only=True)
class Asked:
    """Which ingredients are asked about on which days."""

    ingredient_ids: Sequence[int]
    days: Sequence[date]
    crossed: bool  # every ingredient on every day; else the two lists are pairs


def ask_pairs(pairs: Collection[tuple[int, date]]) -> Asked:
    """Ask about (ingredient, date) pairs."""
    each = sorted(set(pairs))
    return Asked(ingredient_ids=[a for a, _ in each], days=[b for _, b in each], crossed=False)


def ask_cross(ingredient_ids: Collection[int], days: Collection[date]) -> Asked:
    """Ask about every one of the ingredients on every day."""
    return Asked(ingredient_ids=sorted(set(ingredient_ids)), days=sorted(set(days)), crossed=True)


def grid_rows(con: Connection, rule: Rule, asked: Asked) -> list[dict[str, Any]]:
    """Return the price of what is asked, as the rows of queries/prices/which_price_counts.sql."""
    text, parameters = _grid(con, rule, asked)
    return dictionaries(con, text, parameters)


def evidence_rows(con: Connection, rule: Rule, asked: Asked) -> list[dict[str, Any]]:
    """Return the same with what is behind each price (queries/prices/price_evidence.sql)."""
    text, parameters = _grid(con, rule, asked, evidence=True)
    return dictionaries(con, text, parameters)


def grid_columns(con: Connection, rule: Rule, asked: Asked) -> dict[str, Any]:
    """Price what is asked; return unit_price (NaN = missing), bridged and held as numpy arrays.

    Held: an observed price older than the fresh limit, as it was. Each array has one element per
    asked pair, ordered by ingredient, then date.
    """
    text, parameters = _grid(con, rule, asked)
    columns: dict[str, Any] = con.execute(
        "SELECT coalesce(unit_price, 'nan'::DOUBLE) AS unit_price, basis = 'bridged' AS bridged, "
        "basis = 'observed' AND on_date - d0 > $fresh_days AS held "
        f"FROM ({text}) ORDER BY ingredient_id, on_date",
        parameters,
    ).fetchnumpy()
    return columns


def stream_columns(con: Connection, rule: Rule, asked: Asked) -> dict[str, Any]:
    """Return the fresh price of every stream on every asked day, as numpy arrays.

    ingredient_id, stream_id, on_date, unit_price; only streams seen within the fresh limit.
    """
    eligible, parameters = _eligible(con, rule, asked)
    columns: dict[str, Any] = con.execute(
        f"{eligible} FROM ({statement('prices/stream_prices')}) "
        "ORDER BY ingredient_id, stream_id, on_date",
        {**parameters, "fresh_days": rule.fresh_days},
    ).fetchnumpy()
    return columns


def grid_parameters(rule: Rule, *, evidence: bool = False) -> dict[str, Any]:
    """Return what queries/prices/which_price_counts.sql itself is told."""
    return {
        "fresh_days": rule.fresh_days,
        "usable_months": USABLE_MONTHS,
        "bridging": rule.basis == "bridged",
        "evidence": evidence,
    }


def _grid(
    con: Connection, rule: Rule, asked: Asked, *, evidence: bool = False
) -> tuple[str, dict[str, Any]]:
    """Return the statement that prices what is asked, with its parameters."""
    text, parameters = _eligible(con, rule, asked)
    grid = statement("prices/which_price_counts")
    if evidence:
        text += f", grid AS MATERIALIZED ({grid})"
        grid = statement("prices/price_evidence")
    text += f" FROM ({grid}) ORDER BY ingredient_id, on_date"
    return text, {**parameters, **grid_parameters(rule, evidence=evidence)}


def _eligible(con: Connection, rule: Rule, asked: Asked) -> tuple[str, dict[str, Any]]:
    """Lay out `asked`; return eligible_stream and eligible_day as a WITH clause with parameters."""
    _ask(con, asked)
    streams, days = "stream", "stream_day"
    if rule.region is not None or rule.offers or rule.pack is not None:
        # the kept table knows neither regions nor offers nor packs
        _filter_days(con, rule, asked)
        streams = days = "filtered_day"
    parameters = {
        "currency": rule.currency,
        "supplier": None if rule.supplier is None else name_key(rule.supplier),
        "product": None if rule.product is None else name_key(rule.product),
    }
    if _are_few_of_many(asked):
        con.execute(
            "CREATE OR REPLACE TEMP TABLE near_day AS "
            f"{_ELIGIBLE.format(streams=streams, days=days)} "
            f"FROM ({statement('prices/near_days')})",
            {**parameters, "fresh_days": rule.fresh_days},
        )
        days = "near_day"
    return _ELIGIBLE.format(streams=streams, days=days), parameters


def _ask(con: Connection, asked: Asked) -> None:
    ids, days = "unnest($ids::INTEGER[])", "unnest($days::DATE[])"
    if asked.crossed:
        pairs = f"(SELECT {ids} AS ingredient_id), (SELECT {days} AS on_date)"
    else:
        pairs = f"(SELECT {ids} AS ingredient_id, {days} AS on_date)"
    con.execute(
        f"CREATE OR REPLACE TEMP TABLE asked AS SELECT ingredient_id, on_date FROM {pairs}",
        {"ids": asked.ingredient_ids, "days": asked.days},
    )


def _filter_days(con: Connection, rule: Rule, asked: Asked) -> None:
    """Derive the stream-days that pass a filter, as the kept ones are derived."""
    pack: dict[str, Any] = {}
    if rule.pack is not None:
        pack = {
            "pack_amount": f"{rule.pack.amount:f}",
            "pack_dimension": rule.pack.dimension,
            "pack_measure_key": rule.pack.measure_key,
        }
    con.execute(
        "CREATE OR REPLACE TEMP TABLE filtered_day AS SELECT *, dense_rank() OVER (ORDER BY "
        "ingredient_id, currency, supplier_key, product_key)::INTEGER AS stream_id "
        f"FROM ({statement('book/stream_day')})",
        {
            **KEPT,
            "ingredients": sorted(set(asked.ingredient_ids)),
            "region": None if rule.region is None else name_key(rule.region),
            "offers": rule.offers,
            **pack,
        },
    )


def _are_few_of_many(asked: Asked) -> bool:
    """Tell whether few days are asked about many ingredients."""
    days = len(set(asked.days))
    many = len(asked.ingredient_ids) * (days if asked.crossed else 1)
    return days <= _FEW_DAYS and many >= _MANY_PAIRS
