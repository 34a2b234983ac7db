"""Runs queries/prices/which_price_counts.sql: lays out what is asked and what may count."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from pricing.book.connect import Connection
from pricing.book.derive import KEPT
from pricing.book.price_rule import eligible, grid, grid_parameters
from pricing.book.read import HALF_LIFE_DAYS, Settings, dictionaries, statement
from pricing.measures.quantities import Quantity
from pricing.names import name_key


@dataclass(frozen=True, kw_only=True)
class Rule:
    """Which observations may count, and how older prices are treated."""

    currency: str  # ISO 4217
    fresh_days: int = 45  # a price seen within so many days counts as it is
    half_life_days: int = HALF_LIFE_DAYS  # an older price counts half as much for every so many
    market: str = "shop"  # or trade, or any: whose prices are asked for
    food_series: str | None = None  # it and its parents are the last rungs of every ladder
    basis: str = "bridged"  # or "observed"
    as_known: bool = False  # what was seen later counts only where nothing was seen before
    supplier: str | None = None  # only its prices count, whatever their market
    without: tuple[str, ...] = ()  # suppliers whose prices do not count
    region: str | None = None
    offers: bool = False
    product: str | None = None
    pack: Quantity | None = None

    @classmethod
    def of(cls, book: Settings, **others: Any) -> Rule:
        """Return the rule of a book's settings; `others` are fields that shall be otherwise."""
        rule = cls(
            currency=book.currency,
            fresh_days=book.fresh_days,
            half_life_days=book.half_life_days,
            market=book.market,
            food_series=book.food_series,
        )
        return replace(rule, **others)

    @property
    def kept(self) -> bool:
        """Tell whether the book keeps the typical prices that this rule asks for."""
        told = (self.supplier, self.region, self.product, self.pack)
        return not self.offers and not self.without and all(each is None for each in told)


@dataclass(frozen=True, kw_only=True)
class Asked:
    """Which ingredients are asked about on which days."""

    ingredient_ids: Sequence[int]
    days: Sequence[date]
    crossed: bool  # every ingredient on every day; else the two lists are pairs
    markets: Mapping[int, str] = field(default_factory=dict)  # settled, by ingredient


def ask_pairs(
    pairs: Collection[tuple[int, date]], markets: Mapping[int, str] | None = None
) -> Asked:
    """Ask about (ingredient, date) pairs; `markets`: those that were settled, by ingredient."""
    each = sorted(set(pairs))
    return Asked(
        ingredient_ids=[a for a, _ in each],
        days=[b for _, b in each],
        crossed=False,
        markets=markets or {},
    )


def ask_cross(
    ingredient_ids: Collection[int],
    days: Collection[date],
    markets: Mapping[int, str] | None = None,
) -> Asked:
    """Ask about every one of the ingredients on every day."""
    return Asked(
        ingredient_ids=sorted(set(ingredient_ids)),
        days=sorted(set(days)),
        crossed=True,
        markets=markets or {},
    )


def grid_rows(con: Connection, rule: Rule, asked: Asked) -> list[dict[str, Any]]:
    """Return the price of what is asked, as the rows of queries/prices/which_price_counts.sql."""
    text, parameters = _grid(con, rule, asked)
    return dictionaries(con, f"{text} ORDER BY ingredient_id, on_date", parameters)


def evidence_rows(con: Connection, rule: Rule, asked: Asked) -> list[dict[str, Any]]:
    """Return the same with what is behind each price (queries/prices/price_evidence.sql)."""
    text, parameters = _grid(con, rule, asked, evidence=True)
    return dictionaries(con, text, parameters)


def grid_columns(con: Connection, rule: Rule, asked: Asked) -> dict[str, Any]:
    """Price what is asked; return numpy arrays, one element per asked pair.

    unit_price (NaN = missing), bridged (by the basis), moved_share (of the price, by value, that
    rests on moved prices; 0 where missing), held (an observed price older than the fresh limit) and
    in_trade (its market); ordered by ingredient, then date.
    """
    text, parameters = _grid(con, rule, asked)
    columns: dict[str, Any] = con.execute(
        "SELECT coalesce(unit_price, 'nan'::DOUBLE) AS unit_price, basis = 'bridged' AS bridged, "
        "coalesce(moved_share, 0) AS moved_share, coalesce(market = 'trade', false) AS in_trade, "
        "basis = 'observed' AND on_date - d0 > $fresh_days AS held "
        f"FROM ({text}) ORDER BY ingredient_id, on_date",
        parameters,
    ).fetchnumpy()
    return columns


def first_seen(
    con: Connection, rule: Rule, ingredient_ids: Collection[int]
) -> dict[tuple[int, str], date]:
    """Return when each ingredient was first seen in each market, of what may count."""
    text, parameters = _eligible(con, rule, ask_cross(ingredient_ids, [date.max]))
    found = con.execute(
        f"{text} SELECT ingredient_id, market, min(observed_on) FROM eligible_day "
        "GROUP BY ingredient_id, market",
        parameters,
    )
    return {(ingredient_id, market): first for ingredient_id, market, first in found.fetchall()}


def source_columns(con: Connection, rule: Rule, asked: Asked) -> dict[str, Any]:
    """Return the fresh price of every source on every asked day, as numpy arrays.

    ingredient_id, source_id, on_date, unit_price; only sources of one market for an ingredient:
    the one asked for, where it was seen there. Only prices seen within the fresh limit.
    """
    laid_out, parameters = _eligible(con, rule, asked)
    columns: dict[str, Any] = con.execute(
        f"{laid_out} FROM ({statement('prices/source_prices')}) "
        "ORDER BY ingredient_id, source_id, on_date",
        {**parameters, "fresh_days": rule.fresh_days, "market": _market(rule)},
    ).fetchnumpy()
    return columns


def rule_parameters(rule: Rule, *, evidence: bool = False) -> dict[str, Any]:
    """Return what queries/prices/which_price_counts.sql itself is told."""
    return grid_parameters(
        rule,
        market=_market(rule),
        bridging=rule.basis == "bridged",
        as_known=rule.as_known,
        kept=rule.kept,
        evidence=evidence,
    )


def _market(rule: Rule) -> str:
    return rule.market if rule.supplier is None else "any"


def _grid(
    con: Connection, rule: Rule, asked: Asked, *, evidence: bool = False
) -> tuple[str, dict[str, Any]]:
    """Return the statement that prices what is asked, with its parameters."""
    text, parameters = _eligible(con, rule, asked)
    answer = grid()
    if evidence:
        text += f", grid AS MATERIALIZED ({answer})"
        answer = statement("prices/price_evidence")
    text += f" FROM ({answer})"
    return text, {**parameters, **rule_parameters(rule, evidence=evidence)}


def _eligible(con: Connection, rule: Rule, asked: Asked) -> tuple[str, dict[str, Any]]:
    """Lay out `asked`; return what may count as a WITH clause, with its parameters."""
    _ask(con, asked)
    tables = {"sources": "source", "days": "source_day"}
    if rule.region is not None or rule.offers or rule.pack is not None:
        # the kept tables know neither regions nor offers nor packs
        _filter_days(con, rule, asked)
        tables = dict.fromkeys(tables, "filtered_day")
    return eligible(kept=rule.kept, **tables), {
        **({"bridging": rule.basis == "bridged"} if rule.kept else {}),
        "currency": rule.currency,
        "supplier": None if rule.supplier is None else name_key(rule.supplier),
        "without": [name_key(each) for each in rule.without],
        "product": None if rule.product is None else name_key(rule.product),
    }


def _ask(con: Connection, asked: Asked) -> None:
    ids, days = "unnest($ids::INTEGER[])", "unnest($days::DATE[])"
    if asked.crossed:
        pairs = f"(FROM (SELECT {ids} AS ingredient_id), (SELECT {days} AS on_date))"
    else:
        pairs = f"(SELECT {ids} AS ingredient_id, {days} AS on_date)"
    con.execute(
        "CREATE OR REPLACE TEMP TABLE asked AS SELECT ingredient_id, on_date, market "
        f"FROM {pairs} LEFT JOIN (SELECT unnest($settled::INTEGER[]) AS ingredient_id, "
        "unnest($markets::VARCHAR[]) AS market) USING (ingredient_id)",
        {
            "ids": asked.ingredient_ids,
            "days": asked.days,
            "settled": list(asked.markets),
            "markets": list(asked.markets.values()),
        },
    )


def _filter_days(con: Connection, rule: Rule, asked: Asked) -> None:
    """Derive the prices of sources that pass a filter, as the kept ones are derived."""
    pack: dict[str, Any] = {}
    if rule.pack is not None:
        pack = {
            "pack_amount": f"{rule.pack.amount:f}",
            "pack_dimension": rule.pack.dimension,
            "pack_measure_key": rule.pack.measure_key,
        }
    con.execute(
        "CREATE OR REPLACE TEMP TABLE filtered_day AS SELECT d.*, o.supplier, o.product, "
        "dense_rank() OVER (ORDER BY d.ingredient_id, d.currency, market, d.supplier_key, "
        f"d.product_key)::INTEGER AS source_id FROM ({statement('book/source_day')}) d "
        "JOIN observation o ON o.row_id = d.first_row",
        {
            **KEPT,
            "ingredients": sorted(set(asked.ingredient_ids)),
            "region": None if rule.region is None else name_key(rule.region),
            "offers": rule.offers,
            **pack,
        },
    )
