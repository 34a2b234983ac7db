"""Settles whose prices count where dates are compared: one market for all of them, if it can be."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from pricing.book.connect import Connection
from pricing.prices.evidence import GridPrice, Pair, grid_prices
from pricing.prices.rule import Rule, ask_cross, first_seen, grid_columns

Span = tuple[int, tuple[date, ...]]  # an ingredient, and the dates on which it is compared
Markets = tuple[str | None, ...]  # of a span, by date


def settle(
    con: Connection, rule: Rule, spans: Iterable[Span], chosen: Mapping[Pair, str | None]
) -> dict[Span, Markets]:
    """Return the markets of each span that the rule, asked date by date, would not price in one.

    One counts for all its dates: the market asked for, if it was seen on or before each of them,
    else the other, if that was; else each date keeps its own. `chosen` is what the rule chose.
    """
    own = {span: tuple(chosen.get((span[0], day)) for day in span[1]) for span in spans}
    differing = {span: markets for span, markets in own.items() if len(set(markets)) > 1}
    if not differing:
        return {}
    first = first_seen(con, rule, {ingredient_id for ingredient_id, _ in differing})
    order = ("trade", "shop") if rule.market == "trade" else ("shop", "trade")
    settled: dict[Span, Markets] = {}
    for (each, days), markets in differing.items():
        reach = (m for m in order if first.get((each, m), date.max) <= min(days))
        one = next(reach, None)
        settled[each, days] = markets if one is None else (one,) * len(days)
    return settled


def one_market(markets: Markets) -> str | None:
    """Return the market that counts on every date; None where each date keeps its own."""
    return markets[0] if len(set(markets)) == 1 else None


def _forced(settled: Mapping[int, Markets]) -> dict[int, str]:
    """Return the ingredients whose market is not the rule's own choice."""
    return {
        each: market
        for each, markets in settled.items()
        if (market := one_market(markets)) is not None
    }


@dataclass(frozen=True, kw_only=True)
class ComparedPrices:
    """Prices of ingredients on the same dates, each in one market where that can be."""

    prices: Mapping[Pair, GridPrice]  # with evidence
    settled: Mapping[int, Markets]  # of each ingredient whose market would have differed


def compared_prices(
    con: Connection, rule: Rule, ingredient_ids: Collection[int], days: Sequence[date]
) -> ComparedPrices:
    """Price the ingredients on the dates, with evidence."""
    span = tuple(days)
    prices = grid_prices(con, rule, {(each, day) for each in ingredient_ids for day in span})
    chosen = {pair: price.market for pair, price in prices.items()}
    found = settle(con, rule, [(each, span) for each in ingredient_ids], chosen)
    settled = {each: markets for (each, _), markets in found.items()}
    markets = _forced(settled)
    if markets:
        pairs = {(each, day) for each in markets for day in span}
        prices |= grid_prices(con, rule, pairs, markets)
    return ComparedPrices(prices=prices, settled=settled)


@dataclass(frozen=True, kw_only=True)
class ComparedColumns:
    """The same as arrays, [ingredient][day], both in ascending order."""

    columns: dict[str, Any]  # as of pricing.prices.rule.grid_columns
    settled: Mapping[int, Markets]

    @property
    def forced(self) -> dict[int, str]:
        """The ingredients whose market is not the rule's own choice."""
        return _forced(self.settled)


def compared_columns(
    con: Connection, rule: Rule, ingredient_ids: Collection[int], days: Collection[date]
) -> ComparedColumns:
    """Price the ingredients on the dates, as arrays of numpy."""
    ids, span = sorted(set(ingredient_ids)), tuple(sorted(set(days)))
    shape = (len(ids), len(span))
    columns = {
        name: column.reshape(shape)
        for name, column in grid_columns(con, rule, ask_cross(ids, span)).items()
    }
    in_trade = columns["in_trade"]
    differing = (in_trade != in_trade[:, :1]).any(axis=1).nonzero()[0].tolist() if ids else []
    chosen = {
        (ids[at], day): "trade" if trade else "shop"
        for at in differing
        for day, trade in zip(span, in_trade[at].tolist(), strict=True)
    }
    found = settle(con, rule, [(ids[at], span) for at in differing], chosen)
    settled = {each: markets for (each, _), markets in found.items()}
    markets = _forced(settled)
    if markets:
        again = grid_columns(con, rule, ask_cross(markets, span, markets))
        places = [at for at in differing if ids[at] in markets]
        for name, column in again.items():
            columns[name][places] = column.reshape(len(places), len(span))
    return ComparedColumns(columns=columns, settled=settled)
