"""Every dish of the book then and now, in one look: the first page of a back catalogue."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from pricing.answer import Answer
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import read_settings, rows
from pricing.change.effects import corners, effects
from pricing.change.records import IngredientChange
from pricing.change.split import RecipeOnDay
from pricing.clock import refuse_future, today
from pricing.contents.printed import PrintedFigure, first_printed
from pricing.dishes.counted import half_product_ids
from pricing.dishes.recipes import Recipes, read_recipes
from pricing.prices.asked_rule import asked_rule
from pricing.prices.evidence import Pair
from pricing.prices.rule import Rule, ask_pairs, grid_rows
from pricing.prices.settled import Markets, Span, one_market, settle


@dataclass(frozen=True, kw_only=True)
class DishThenAndNow(Answer):
    """One dish: what was first printed, and what became of its cost. Money per portion.

    Figures are those of `pricing.change.compare.compare`: like for like, in the same corners.
    """

    dish: str
    versions: int  # how many the book holds; more than one = reworked
    draft: bool  # it begins after today
    half_product: bool  # other dishes take it, and it was never printed
    printed: PrintedFigure | None  # the first printed figure
    then_on: date  # the day it was costed for, else that on which its first version came into force
    then_version: str
    now_version: str
    cost_then: float  # the recipe of then, then
    cost_moved: float  # the recipe of then, now
    cost_now: float  # the recipe of now, now
    change: float  # = price_effect + recipe_effect
    price_effect: float
    recipe_effect: float
    left_out: tuple[str, ...]  # ingredients that cannot be compared, by name
    complete: bool  # nothing is left out
    share_bridged: float | None  # of the cost now, moved by series; None when nothing is priced
    parts: tuple[IngredientChange, ...]  # each ingredient's quantities, prices and effects


def then_and_now(
    book: Book, *, on: date, market: str | None = None, not_supplier: Sequence[str] = ()
) -> list[DishThenAndNow]:
    """Compare every dish on the day its first printed figure was costed for with `on`, by name.

    Then: the version the figure names, with the sub-recipes of that day; without a figure, the day
    the first version came into force (`on` itself when that is later). Now: the version in force on
    `on`. All prices come from one run of the price statement, those of `market` (the book's unless
    stated) without the suppliers of `not_supplier`. Raises DateRefused, RecipeRefused, UnknownName,
    BookUnreadable.
    """
    refuse_future(on)
    with reading(book) as con:
        rule = asked_rule(con, read_settings(con), market=market, not_supplier=not_supplier)
        recipes = read_recipes(con, None)
        halves = half_product_ids(con)
        first = first_printed(PrintedFigure(**row) for row in rows(con, "contents/printed"))
        dishes = [
            _then_and_now(recipes, dish_id, first.get(versions[0].dish), on, dish_id in halves)
            for dish_id, versions in recipes.versions.items()
        ]
        prices = _prices(con, rule, {span for each in dishes for span in each.spans(recipes)})
    names = recipes.ingredients()
    return [each.compared(recipes, names, prices) for each in dishes]


@dataclass(frozen=True, kw_only=True)
class _Prices:
    """Rows of queries/prices/which_price_counts.sql: as the rule has them, and in one market."""

    own: Mapping[Pair, Mapping[str, Any]]
    settled: Mapping[Span, Markets]
    in_market: Mapping[str, Mapping[Pair, Mapping[str, Any]]]  # of the spans settled on one

    def of(self, span: Span) -> Iterator[Mapping[str, Any]]:
        """Yield the rows of an ingredient on the dates compared."""
        each, days = span
        one = one_market(self.settled.get(span, (None,)))
        rows_of = self.own if one is None else self.in_market[one]
        return (rows_of[each, day] for day in days)


def _prices(con: Connection, rule: Rule, spans: Collection[Span]) -> _Prices:
    own = _priced(con, rule, {(each, day) for each, days in spans for day in days}, {})
    settled = settle(con, rule, spans, {pair: row["market"] for pair, row in own.items()})
    asked: dict[str, set[Pair]] = defaultdict(set)
    for (each, days), markets in settled.items():
        one = one_market(markets)
        if one is not None:
            asked[one] |= {(each, day) for day in days}
    return _Prices(
        own=own,
        settled=settled,
        in_market={
            market: _priced(con, rule, pairs, dict.fromkeys((each for each, _ in pairs), market))
            for market, pairs in asked.items()
        },
    )


def _priced(
    con: Connection, rule: Rule, pairs: Collection[Pair], markets: Mapping[int, str]
) -> dict[Pair, dict[str, Any]]:
    return {
        (row["ingredient_id"], row["on_date"]): row
        for row in grid_rows(con, rule, ask_pairs(pairs, markets))
    }


@dataclass(frozen=True, kw_only=True)
class _ThenAndNow:
    """The two sides of one dish."""

    half_product: bool
    printed: PrintedFigure | None
    then: RecipeOnDay
    now: RecipeOnDay
    on: tuple[date, date]

    def spans(self, recipes: Recipes) -> set[Span]:
        return {
            (each, self.on) for side in (self.then, self.now) for each in recipes.per_portion(*side)
        }

    def compared(
        self, recipes: Recipes, names: Mapping[int, tuple[str, str | None]], prices: _Prices
    ) -> DishThenAndNow:
        taken = recipes.per_portion(*self.then), recipes.per_portion(*self.now)
        here = {span[0]: list(prices.of(span)) for span in self.spans(recipes)}
        unit_prices = {
            (each, day): row["unit_price"]
            for each, ends in here.items()
            for day, row in zip(self.on, ends, strict=True)
        }
        parts = effects(names, taken, unit_prices, self.on)
        cost = corners(parts)
        moved = sum(
            (part.quantity_now or 0.0) * (part.unit_price_now or 0.0) * here[each][1]["moved_share"]
            for each, part in zip(sorted(here), parts, strict=True)
            if not part.left_out
        )
        by_price = sum(part.price_effect or 0.0 for part in parts)
        by_recipe = sum(part.recipe_effect or 0.0 for part in parts)
        left_out = tuple(sorted(part.ingredient for part in parts if part.left_out))
        versions = recipes.versions[self.now[0].dish_id]
        return DishThenAndNow(
            dish=self.now[0].dish,
            versions=len(versions),
            draft=versions[0].effective_from > today(),
            half_product=self.half_product,
            printed=self.printed,
            then_on=self.on[0],
            then_version=self.then[0].version,
            now_version=self.now[0].version,
            cost_then=cost.then_recipe_then,
            cost_moved=cost.then_recipe_now,
            cost_now=cost.now_recipe_now,
            change=by_price + by_recipe,
            price_effect=by_price,
            recipe_effect=by_recipe,
            left_out=left_out,
            complete=not left_out,
            share_bridged=moved / cost.now_recipe_now if cost.now_recipe_now > 0 else None,
            parts=tuple(parts),
        )


def _then_and_now(
    recipes: Recipes, dish_id: int, printed: PrintedFigure | None, on: date, half_product: bool
) -> _ThenAndNow:
    versions = recipes.versions[dish_id]
    now, _ = recipes.in_force(dish_id, on)
    if printed is None or printed.costed_on > on:
        printed, version, then_on = None, versions[0], min(versions[0].effective_from, on)
        recipe_day = recipes.recipe_day(version, then_on)
    else:
        then_on = recipe_day = printed.costed_on
        version = next((each for each in versions if each.version == printed.version), versions[0])
    return _ThenAndNow(
        half_product=half_product,
        printed=printed,
        then=(version, recipe_day),
        now=(now, recipes.recipe_day(now, on)),
        on=(then_on, on),
    )
