"""Every dish of the book then and now, in one look: the first page of a back catalogue."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from pricing.answer import Answer
from pricing.book.connect import Book, reading
from pricing.book.read import read_settings, rows
from pricing.change.effects import effects
from pricing.change.split import RecipeOnDay
from pricing.clock import refuse_future
from pricing.contents.printed import Claim
from pricing.dishes.recipes import Recipes, read_recipes
from pricing.prices.evidence import Pair
from pricing.prices.rule import Rule, ask_pairs, grid_rows


@dataclass(frozen=True, kw_only=True)
class DishThenAndNow(Answer):
    """One dish: what was first printed, and what became of its cost. Money per portion."""

    dish: str
    versions: int  # how many the book holds; more than one = reworked
    printed: Claim | None  # the first published figure
    then_on: date  # its date, else the day its first version came into force
    then_version: str
    now_version: str
    cost_then: float  # recomputed; a price known on one of the dates only counts on both
    cost_now: float  # of the lines that have a price now
    complete: bool  # every line has a price now
    share_bridged: float | None  # of cost_now; None when nothing is priced
    change: float  # = price_effect + recipe_effect, as pricing.change.compare.compare has it
    price_effect: float
    recipe_effect: float


def then_and_now(book: Book, *, on: date) -> list[DishThenAndNow]:
    """Compare every dish on the day of its first published figure with `on`, by name.

    Then: the version the figure names; without a figure, the day the first version came into
    force (`on` itself when that is later). Now: the version in force on `on`. All prices come from
    one run of the price statement. Raises DateRefused, RecipeRefused, BookUnreadable.
    """
    refuse_future(on)
    with reading(book) as con:
        settings = read_settings(con)
        recipes = read_recipes(con, None)
        first: dict[str, Claim] = {}
        for row in rows(con, "contents/claims"):
            first.setdefault(row["dish"], Claim(**row))
        dishes = [
            _then_and_now(recipes, dish_id, first.get(versions[0].dish), on)
            for dish_id, versions in recipes.versions.items()
        ]
        asked = ask_pairs({pair for each in dishes for pair in each.pairs(recipes)})
        priced = grid_rows(con, Rule.of(settings), asked)
    prices: dict[Pair, float | None] = {
        (row["ingredient_id"], row["on_date"]): row["unit_price"] for row in priced
    }
    bridged = {
        (row["ingredient_id"], row["on_date"]) for row in priced if row["basis"] == "bridged"
    }
    names = {
        line.ingredient_id: (line.name, line.base)
        for lines in recipes.lines.values()
        for line in lines
        if line.ingredient_id is not None
    }
    return [each.compared(recipes, names, prices, bridged) for each in dishes]


@dataclass(frozen=True, kw_only=True)
class _ThenAndNow:
    """The two sides of one dish."""

    printed: Claim | None
    then: RecipeOnDay
    now: RecipeOnDay

    def pairs(self, recipes: Recipes) -> set[Pair]:
        ids = {each for side in (self.then, self.now) for each in recipes.per_portion(*side)}
        return {(each, side[1]) for each in ids for side in (self.then, self.now)}

    def compared(
        self,
        recipes: Recipes,
        names: Mapping[int, tuple[str, str | None]],
        prices: Mapping[Pair, float | None],
        bridged: set[Pair],
    ) -> DishThenAndNow:
        taken = recipes.per_portion(*self.then), recipes.per_portion(*self.now)
        parts = effects(names, taken, prices, (self.then[1], self.now[1]))
        price_effect = sum(part.price_effect for part in parts)
        recipe_effect = sum(part.recipe_effect for part in parts)
        on = self.now[1]
        costs = {
            each: None
            if bought is None or prices.get((each, on)) is None
            else bought * (prices[each, on] or 0.0)
            for each, bought in taken[1].items()
        }
        cost_now = sum(cost or 0.0 for cost in costs.values())
        moved = sum(cost or 0.0 for each, cost in costs.items() if (each, on) in bridged)
        return DishThenAndNow(
            dish=self.now[0].dish,
            versions=len(recipes.versions[self.now[0].dish_id]),
            printed=self.printed,
            then_on=self.then[1],
            then_version=self.then[0].version,
            now_version=self.now[0].version,
            cost_then=sum(part.quantity_then * (part.unit_price_then or 0.0) for part in parts),
            cost_now=cost_now,
            complete=None not in costs.values(),
            share_bridged=moved / cost_now if cost_now > 0 else None,
            change=price_effect + recipe_effect,
            price_effect=price_effect,
            recipe_effect=recipe_effect,
        )


def _then_and_now(recipes: Recipes, dish_id: int, printed: Claim | None, on: date) -> _ThenAndNow:
    versions = recipes.versions[dish_id]
    now, _ = recipes.in_force(dish_id, on)
    if printed is None or printed.published_on > on:
        then_on = min(versions[0].effective_from, on)
        return _ThenAndNow(printed=None, then=(versions[0], then_on), now=(now, on))
    version = next((each for each in versions if each.version == printed.version), versions[0])
    return _ThenAndNow(printed=printed, then=(version, printed.published_on), now=(now, on))
