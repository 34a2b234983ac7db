"""What a portion may cost on a later day: ranges from today's cost and the official history."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from pricing.ahead.asked import asked_months, asked_target
from pricing.ahead.cost_now import CostNow, cost_of_dish, mean_cost
from pricing.ahead.records import LeansOn, Outlook, Range, Reach, Rung
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import read_settings
from pricing.clock import today
from pricing.contents.choices import ingredients_in
from pricing.days import Day, month_text
from pricing.errors import InputRefused, SeriesRefused
from pricing.prices.asked_rule import asked_rule
from pricing.prices.rule import Rule
from pricing.series.ladder import Ladder, read_ladder

if TYPE_CHECKING:
    from pricing.ahead.basket import Basket


@dataclass(frozen=True, kw_only=True)
class _Item:
    """An ingredient of the basket."""

    ingredient: str
    named: str | None  # series
    rungs: tuple[str, ...]
    cost: float


def outlook(
    book: Book,
    dish: str | None = None,
    *,
    months: int | None = None,
    on: Day | None = None,
    version: str | None = None,
    target: float | None = None,
    market: str | None = None,
    not_supplier: Sequence[str] = (),
) -> Outlook:
    """Return the ranges in which a portion of a dish (None: the mean of all) may cost on a day.

    The day is `months` from today (1 to 36), or `on`. What the official series of its ingredients
    did in the past, all together and weighted by today's cost, moves today's cost; how far out
    the ends lie was learned from past forecasts by the same rule (pricing/ahead/rule.py). An
    ingredient whose series is short or has ended leans on the next wider one for those months.
    With a `target` (per portion) the chance to end at or under it. `version` defaults to the one
    in force today; `market` and `not_supplier` as in `cost_dish`. A line without a price is left
    out: `complete` is false, and all amounts are "at least".
    Raises UnknownName, InputRefused, DateRefused (not after today, or too far ahead),
    SeriesRefused (no price, or too short a history), RecipeRefused, BookUnreadable.
    """
    from pricing.ahead.basket import basket_ahead  # numpy only when needed

    ahead, day = asked_months(months, on)
    target = asked_target(target)
    _refuse_alone(version, dish)
    with reading(book) as con:
        settings = read_settings(con)
        rule = asked_rule(con, settings, market=market, not_supplier=not_supplier)
        if dish is None:
            cost = mean_cost(con, rule, today())
        else:
            cost = cost_of_dish(con, rule, dish, version, today())
        ladder = read_ladder(con)
        items = _items(con, cost, ladder, settings.food_series)
        if not any(item.rungs for item in items):
            raise _nothing(cost)
        basket = basket_ahead(
            con, [each.rungs for each in items], [each.cost for each in items], ahead
        )
    found = _told(rule, cost, basket, day)
    reach = None if target is None else _reach(basket, cost.total, target)
    return replace(found, reach=reach, series=tuple(_leaning(items, basket, ladder.titles)))


def _refuse_alone(version: str | None, dish: str | None) -> None:
    if dish is None and version is not None:
        raise InputRefused(
            "Found a version and no dish; expected the dish beside it. Name the dish, or leave the "
            "version out."
        )


def _told(rule: Rule, cost: CostNow, basket: Basket, day: date) -> Outlook:
    """Return the answer without a target, and without the series it leans on."""
    return Outlook(
        dish=cost.dish,
        version=cost.version,
        dishes=cost.dishes,
        currency=rule.currency,
        market=rule.market,
        today=today(),
        now=cost.total,
        on=day,
        months=basket.months,
        complete=not cost.missing,
        missing=cost.missing,
        ranges=tuple(_ranges(basket, cost.total)),
        reach=None,
        forecasts=len(basket.missed),
        history_from=month_text(basket.first),
        history_to=month_text(basket.last),
        series=(),
    )


def _items(con: Connection, cost: CostNow, ladder: Ladder, food: str | None) -> list[_Item]:
    """Return what is paid for, the dearest first."""
    found = [
        _Item(
            ingredient=each.ingredient,
            named=each.series,
            rungs=tuple(ladder.rungs(each.series, food)),
            cost=cost.by_ingredient[each.ingredient],
        )
        for each in ingredients_in(con)
        if each.ingredient in cost.by_ingredient
    ]
    return sorted(found, key=lambda item: (-item.cost, item.ingredient))


def _nothing(cost: CostNow) -> SeriesRefused:
    of = "any dish" if cost.dish is None else f"'{cost.dish}'"
    return SeriesRefused(
        f"Found no ingredient of {of} with a price and an official series; expected one at least. "
        "Log its prices, and name a series for it in an ingredients file or set food_series."
    )


def _ranges(basket: Basket, now: float) -> Iterator[Range]:
    for share, stretch in basket.stretches.items():
        low, high = basket.moved(-stretch), basket.moved(stretch)
        held = sum(miss <= stretch for miss in basket.missed)
        yield Range(share=share, low=now * low, high=now * high, held=held)


def _reach(basket: Basket, now: float, target: float) -> Reach:
    return Reach(amount=target, chance=basket.chance(target / now))


def _leaning(
    items: Sequence[_Item], basket: Basket, titles: Mapping[str, str | None]
) -> Iterator[LeansOn]:
    whole = sum(item.cost for item in items)
    for item, steps in zip(items, basket.steps, strict=True):
        used = Counter(step for step in steps if step >= 0).most_common()
        newest = item.rungs[steps[-1]] if used and steps[-1] >= 0 else None
        yield LeansOn(
            ingredient=item.ingredient,
            series=newest,
            title=None if newest is None else titles[newest],
            share=item.cost / whole,
            named=item.named,
            rungs=tuple(
                Rung(series=item.rungs[step], title=titles[item.rungs[step]], changes=many)
                for step, many in used
            ),
        )
