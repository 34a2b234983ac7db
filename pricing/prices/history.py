"""How the price of one ingredient went: what was seen, the typical price, the official series."""

from __future__ import annotations

import math
from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from pricing.answer import Answer
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import read_settings, rows
from pricing.clock import refuse_future
from pricing.contents.choices import ListedIngredient, find_ingredient
from pricing.days import costing_days, month_range
from pricing.prices.evidence import grid_prices
from pricing.prices.price_line import CostLine, evidence_of
from pricing.prices.reasons import sightings, why_held, why_missing
from pricing.prices.rule import Rule, ask_pairs, grid_rows


@dataclass(frozen=True, kw_only=True)
class Observation(Answer):
    """One price as it was seen."""

    observed_on: date
    price: Decimal  # of the whole pack
    currency: str
    pack: str  # as written
    unit_price: float | None  # currency per g, ml or each, as purchased
    supplier: str | None
    product: str | None
    kind: str
    tax_pct: Decimal | None
    region: str | None
    note: str | None
    file: str  # that brought it
    load: int  # that brought it
    row: int  # by which it is taken back


@dataclass(frozen=True, kw_only=True)
class TypicalPrice(Answer):
    """The typical price on a day, as a costing would take it."""

    on: date
    unit_price: float  # currency per g, ml or each
    basis: str  # observed or bridged


@dataclass(frozen=True, kw_only=True)
class PriceHistory(Answer):
    """An ingredient's prices up to a day."""

    facts: ListedIngredient
    currency: str  # the book's
    on: date
    observations: tuple[Observation, ...]  # newest first, every currency
    typical: tuple[TypicalPrice, ...]  # by day
    official: tuple[tuple[date, float], ...]  # first day of month, currency per base unit
    market: str  # whose prices the book asks for: shop, trade or any
    now: CostLine  # one base unit on `on`, with its evidence


def price_history(book: Book, ingredient: str, *, on: date) -> PriceHistory:
    """Return the history of an ingredient's price up to `on`, in the book's currency.

    `typical` holds every day on which a price was seen, the 15th of each month since the first,
    and `on`. `official` is the ingredient's own series times one factor, the geometric mean of
    typical price ÷ index over the days seen, so that the two can be laid over each other; it is
    empty without a series, or without a month in common.
    Raises UnknownName, DateRefused (a date after today), BookUnreadable.
    """
    refuse_future(on)
    with reading(book) as con:
        settings = read_settings(con)
        facts = find_ingredient(con, ingredient)
        rule = Rule.of(settings)
        seen = tuple(
            Observation(**row)
            for row in rows(con, "prices/price_history", {"ingredient_id": facts.ingredient_id})
        )
        typical = _typical(con, rule, facts, on)
        days_seen = {each.observed_on for each in seen if each.currency == settings.currency}
        return PriceHistory(
            facts=facts,
            currency=settings.currency,
            on=on,
            observations=seen,
            typical=typical,
            official=_official(con, facts, typical, days_seen, on),
            market=rule.market,
            now=_now(con, rule, facts, on),
        )


def _typical(
    con: Connection, rule: Rule, facts: ListedIngredient, on: date
) -> tuple[TypicalPrice, ...]:
    if facts.first_on is None or facts.first_on > on:
        return ()
    observed = con.execute(
        "SELECT DISTINCT observed_on FROM typical_day WHERE ingredient_id = $id",
        {"id": facts.ingredient_id},
    ).fetchall()
    months = month_range(facts.first_on.replace(day=1), on.replace(day=1))
    days = {day for (day,) in observed} | {*costing_days(months, on), on}
    asked = ask_pairs({(facts.ingredient_id, day) for day in days if facts.first_on <= day <= on})
    return tuple(
        TypicalPrice(on=row["on_date"], unit_price=row["unit_price"], basis=row["basis"])
        for row in grid_rows(con, rule, asked)
        if row["unit_price"] is not None
    )


def _official(
    con: Connection,
    facts: ListedIngredient,
    typical: tuple[TypicalPrice, ...],
    days_seen: Collection[date],
    on: date,
) -> tuple[tuple[date, float], ...]:
    if facts.series is None or not typical:
        return ()
    values: dict[date, float] = dict(
        con.execute(
            "SELECT month, value FROM series_value_now WHERE series = $series AND month <= $on "
            "ORDER BY month",
            {"series": facts.series, "on": on},
        ).fetchall()
    )
    ratios = [
        math.log(each.unit_price / values[each.on.replace(day=1)])
        for each in typical
        if each.on in days_seen and each.on.replace(day=1) in values
    ]
    if not ratios:
        return ()
    factor = math.exp(sum(ratios) / len(ratios))
    first = typical[0].on.replace(day=1)
    return tuple((month, value * factor) for month, value in values.items() if month >= first)


def _now(con: Connection, rule: Rule, facts: ListedIngredient, on: date) -> CostLine:
    pair = (facts.ingredient_id, on)
    price = grid_prices(con, rule, {pair})[pair]
    if price.unit_price is None:
        seen = sightings(con, [facts.ingredient_id], rule).get(facts.ingredient_id)
        reason: str | None = why_missing(facts.ingredient, price, rule, seen)
    else:
        reason = why_held(price, rule)
    return CostLine(
        ingredient=facts.ingredient,
        quantity=1.0,
        unit=facts.base,
        state="as_purchased",
        as_purchased=1.0,
        base=facts.base,
        unit_price=price.unit_price,
        cost=price.unit_price,
        share=None,
        pantry=False,
        basis=price.basis,
        reason=reason,
        **evidence_of(price),
    )
