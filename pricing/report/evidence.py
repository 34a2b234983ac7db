"""Which prices and which index values the figures of a report rest on: every one of them."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from pricing.book.connect import Connection
from pricing.book.read import Settings, rows
from pricing.change.drivers import Drivers
from pricing.change.overview import DishThenAndNow
from pricing.days import month_text
from pricing.dishes.recipes import Recipes, read_recipes
from pricing.inflation.records import Inflation
from pricing.names import name_key
from pricing.prices.rule import Rule, ask_cross, ask_pairs, evidence_rows
from pricing.prices.settled import settle
from pricing.printed.records import CheckedFigure
from pricing.report.records import IndexUsed, PriceUsed, SeriesUsed

Pair = tuple[int, date]
_SHOP = ("shelf", "receipt", "offer")  # kinds of price of the shop's market (design §4)


@dataclass(frozen=True, kw_only=True)
class Asked:
    """What a report tells, of which the evidence is wanted."""

    on: date
    days: Sequence[date]  # the 15th of each month
    dishes: Sequence[DishThenAndNow]
    figures: Sequence[CheckedFigure]
    inflation: Inflation
    drivers: Drivers
    settings: Settings


@dataclass(frozen=True, kw_only=True)
class Evidence:
    """The evidence of a report."""

    series: tuple[SeriesUsed, ...]
    prices: tuple[PriceUsed, ...]
    index_values: tuple[IndexUsed, ...]


Seen = tuple[
    str, date, str, str, str, str
]  # name, day, supplier and product as compared, market, currency


class _Used:
    """What was used so far."""

    def __init__(self, names: Mapping[int, str]) -> None:
        self.names = names
        self.seen: set[Seen] = set()
        self.months: set[tuple[str, date]] = set()  # series, first day of a month

    def take(self, rows_of: Iterable[Mapping[str, Any]], currency: str) -> None:
        """Note what is behind the rows of queries/prices/price_evidence.sql."""
        for row in rows_of:
            name = self.names[row["ingredient_id"]]
            if row["basis"] == "bridged" and row["series"]:
                for key in ("month", "month0", "month1"):
                    self._month(row["series"], row[key])
            for seen in row["observed"] or ():
                self.seen.add(
                    (name, seen["date"], name_key(seen["supplier"] or ""),
                     name_key(seen["product"] or ""), row["market"] or "any", currency)
                )  # fmt: skip
                if seen["series"]:
                    self._month(seen["series"], seen["date"])
                    for end in (row["d0"], row["d1"]):
                        self._month(seen["series"], end)

    def _month(self, series: str, day: date | None) -> None:
        if day is not None:
            self.months.add((series, day.replace(day=1)))


def evidence_of_report(con: Connection, rule: Rule, asked: Asked) -> Evidence:
    """Return every price and every index value that the figures of a report rest on."""
    recipes = read_recipes(con, None)
    names = {each: name for each, (name, _) in recipes.ingredients().items()}
    ids = {name: each for each, name in names.items()}
    used = _Used(names)
    _of_months(con, rule, asked, ids, used)
    _of_then_and_now(con, rule, asked, ids, used)
    _of_figures(con, rule, asked, recipes, used)
    _of_official(asked, used)
    values = _index_values(con, used)
    return Evidence(
        series=_series(con, values),
        prices=tuple(_prices(con, used)),
        index_values=values,
    )


def _of_months(
    con: Connection, rule: Rule, asked: Asked, ids: Mapping[str, int], used: _Used
) -> None:
    """Take what each dish and the kitchen's index rest on, month by month."""
    index = [(ids[e.name], e) for e in asked.inflation.by_ingredient if e.name is not None]
    taken = {each for each, _ in index}
    taken |= {ids[p.ingredient] for dish in asked.dishes for p in dish.parts}
    forced = {each: e.market for each, e in index if e.market is not None}
    used.take(evidence_rows(con, rule, ask_cross(taken, asked.days)), rule.currency)
    if forced:  # in the index each of these is of one market, in the dish's own course of its own
        again = ask_cross(forced, asked.days, forced)
        used.take(evidence_rows(con, rule, again), rule.currency)


def _of_then_and_now(
    con: Connection, rule: Rule, asked: Asked, ids: Mapping[str, int], used: _Used
) -> None:
    """Take what the figures of then and of now rest on."""
    spans = {
        (ids[part.ingredient], (dish.then_on, asked.on))
        for dish in asked.dishes
        for part in dish.parts
    }
    found = evidence_rows(con, rule, ask_pairs({(i, day) for i, days in spans for day in days}))
    chosen = {(row["ingredient_id"], row["on_date"]): row["market"] for row in found}
    settled = settle(con, rule, spans, chosen)
    used.take(found, rule.currency)
    for market in ("shop", "trade"):
        pairs = {(i, d) for (i, days), own in settled.items() if set(own) == {market} for d in days}
        if pairs:
            markets = dict.fromkeys((i for i, _ in pairs), market)
            used.take(evidence_rows(con, rule, ask_pairs(pairs, markets)), rule.currency)


def _of_figures(con: Connection, rule: Rule, asked: Asked, recipes: Recipes, used: _Used) -> None:
    """Take what the check of each printed figure rests on, in the figure's own currency."""
    dish_ids = {versions[0].dish: each for each, versions in recipes.versions.items()}
    for currency in sorted({each.currency for each in asked.figures}):
        then: set[Pair] = set()
        now: set[Pair] = set()
        for figure in asked.figures:
            if figure.currency == currency:
                version = recipes.named(dish_ids[figure.dish], figure.version)
                for each in recipes.per_portion(version, figure.recipe_day):
                    then.add((each, figure.costed_on))
                    now |= {(each, figure.costed_on), (each, asked.on)}
        own = replace(rule, currency=currency)
        used.take(evidence_rows(con, own, ask_pairs(now)), currency)
        as_known = replace(own, as_known=True)
        used.take(evidence_rows(con, as_known, ask_pairs(then)), currency)


def _of_official(asked: Asked, used: _Used) -> None:
    """Take the values of the official series that stand beside the kitchen's own index."""
    first, last = asked.drivers.then.replace(day=1), asked.drivers.now.replace(day=1)
    for month in asked.inflation.months:
        for series, value in (
            (asked.inflation.food_series, month.official_food),
            (asked.inflation.all_items_series, month.official_all),
        ):
            if series is not None and value is not None:
                used.months.add((series, date.fromisoformat(f"{month.month}-01")))
    for driver in asked.drivers.ingredients:
        if driver.series is not None:
            used.months |= {(driver.series, first), (driver.series, last)}
    for figure in asked.figures:
        for series, amount in (
            (asked.settings.food_series, figure.rebased_food),
            (asked.settings.all_items_series, figure.rebased_all),
        ):
            if series is not None and amount is not None:
                used.months |= {(series, d.replace(day=1)) for d in (figure.costed_on, asked.on)}


def _prices(con: Connection, used: _Used) -> Iterator[PriceUsed]:
    """Yield the prices as they were logged, by currency, ingredient and day."""
    for currency in sorted({each[5] for each in used.seen}):
        wanted = sorted(each for each in used.seen if each[5] == currency)
        markets: dict[tuple[str, date, str, str], set[str]] = {}
        for each in wanted:
            markets.setdefault(each[:4], set()).add(each[4])
        lists = ("ingredients", "days", "suppliers", "products")
        asked = {name: [each[at] for each in wanted] for at, name in enumerate(lists)}
        for row in rows(con, "prices/prices_used", {**asked, "currency": currency}):
            own = "shop" if row["kind"] in _SHOP else "trade"
            key = (row["ingredient"], row["observed_on"], row.pop("supplier_key"),
                   row.pop("product_key"))  # fmt: skip
            if markets[key] & {own, "any"}:
                yield PriceUsed(**row)


def _index_values(con: Connection, used: _Used) -> tuple[IndexUsed, ...]:
    """Return the value of each month needed: its own, else that of the last month before it."""
    found: dict[str, list[dict[str, Any]]] = {}
    for row in rows(con, "report/series_values", {"series": sorted({s for s, _ in used.months})}):
        found.setdefault(row["series"], []).append(row)
    months = {series: [row["month"] for row in own] for series, own in found.items()}
    told = []
    for series, month in sorted(used.months):
        at = bisect_right(months.get(series, []), month) - 1
        if at >= 0:
            row = found[series][at]
            told.append(
                IndexUsed(
                    series=series,
                    month=month_text(month),
                    value_month=month_text(row["month"]),
                    value=row["value"],
                    released_on=row["released_on"],
                )
            )
    return tuple(told)


def _series(con: Connection, values: Sequence[IndexUsed]) -> tuple[SeriesUsed, ...]:
    facts = {row["series"]: row for row in rows(con, "contents/series_list")}
    by_series: dict[str, list[IndexUsed]] = {}
    for each in values:
        by_series.setdefault(each.series, []).append(each)
    return tuple(
        SeriesUsed(
            series=name,
            title=facts[name]["title"] if name in facts else None,
            base_label=facts[name]["base_label"] if name in facts else None,
            first_month=min(each.month for each in own),
            last_month=max(each.month for each in own),
            months_used=len(own),
            released_on=max((e.released_on for e in own if e.released_on), default=None),
        )
        for name, own in sorted(by_series.items())
    )
