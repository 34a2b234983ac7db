"""The lines of one dish's costing: each ingredient at its price, sub-recipes with lines inside."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import TypedDict, Unpack

from pricing.book.connect import Connection
from pricing.dishes.recipes import Line, Recipes, Version, refuse_path
from pricing.prices.bridge_error import ErrorTable, typical_error, typical_errors
from pricing.prices.evidence import GridPrice, Pair, grid_prices, weakest
from pricing.prices.price_line import CostLine, evidence_of
from pricing.prices.reasons import Sightings, sightings, why_held, why_missing, why_unmeasured
from pricing.prices.rule import Rule


@dataclass(frozen=True, kw_only=True)
class PricedRecipe:
    """A recipe and all it takes, with the prices of a day."""

    rule: Rule
    recipes: Recipes
    on: date  # whose prices count
    recipe_day: date  # whose sub-recipes count
    prices: dict[int, GridPrice]  # by ingredient id
    unpriced: Sightings  # of the ingredients without a price
    errors: ErrorTable | None  # how far prices are typically off; None: basis `observed`

    def lines(
        self, version: Version, times: float, *, pantry: bool, path: tuple[Version, ...]
    ) -> tuple[CostLine, ...]:
        """Return the lines of a version taken `times` over; `pantry` marks all of them."""
        refuse_path(version, path)
        made = []
        for line in self.recipes.lines.get(version.row, []):
            if line.sub_dish_id is None:
                made.append(self._ingredient(line, times, pantry))
            else:
                made.append(self._sub_recipe(line, version, times, pantry, path))
        return tuple(made)

    def _sub_recipe(
        self, line: Line, version: Version, times: float, pantry: bool, path: tuple[Version, ...]
    ) -> CostLine:
        assert line.sub_dish_id is not None
        sub, started = self.recipes.in_force(line.sub_dish_id, self.recipe_day)
        batches = times * self.recipes.batches_taken(line, sub, version.dish)
        quantity, unit = line.written()
        inside = self.lines(sub, batches, pantry=pantry or line.pantry, path=(*path, version))
        gaps = [each.ingredient for each in inside if each.basis == "missing"]
        return CostLine(
            ingredient=f"dish:{sub.dish}",
            quantity=quantity * times,
            unit=unit,
            state=line.state,
            as_purchased=None,
            base=None,
            unit_price=None,
            cost=sum(each.cost or 0.0 for each in inside),
            share=None,
            pantry=pantry or line.pantry,
            basis=weakest(each.basis for each in inside),
            reason=f"Without a price inside: {', '.join(gaps)}." if gaps else None,
            version=sub.version,
            version_in_force=started,
            lines=inside,
        )

    def _ingredient(self, line: Line, times: float, pantry: bool) -> CostLine:
        assert line.ingredient_id is not None
        price = self.prices[line.ingredient_id]
        quantity, unit = line.written()
        bought = None if line.as_purchased is None else line.as_purchased * times
        cost = None
        if bought is not None and price.unit_price is not None:
            cost = bought * price.unit_price
        return CostLine(
            ingredient=line.name,
            quantity=quantity * times,
            unit=unit,
            state=line.state,
            as_purchased=bought,
            base=line.base,
            unit_price=price.unit_price,
            cost=cost,
            share=None,
            pantry=pantry or line.pantry,
            basis="missing" if cost is None else price.basis,
            reason=self._reason(line, price),
            **evidence_of(price, typical_error(self.errors, price)),
        )

    def _reason(self, line: Line, price: GridPrice) -> str | None:
        """Return why an ingredient line has no cost, or an old price; None when it is fresh."""
        if line.as_purchased is None:
            return why_unmeasured(line.name, f"{line.quantity} {line.unit}", line.base)
        if price.unit_price is None:
            seen = self.unpriced.get(line.ingredient_id or 0)
            return why_missing(line.name, price, self.rule, seen)
        return why_held(price, self.rule)


@dataclass(kw_only=True)
class PricesKept:
    """Prices asked for in one state of a book by one rule, so as not to be asked again."""

    prices: dict[Pair, GridPrice] = field(default_factory=dict)
    errors: ErrorTable | None = None  # how far prices are typically off


class Priced(TypedDict, total=False):
    """When a recipe is priced: `on` and `recipe_day` always."""

    on: date
    recipe_day: date  # whose sub-recipes count
    kept: PricesKept | None


def price_recipe(
    con: Connection, rule: Rule, recipes: Recipes, version: Version, **asked: Unpack[Priced]
) -> PricedRecipe:
    """Price on a day all that a version takes with the sub-recipes of `recipe_day`.

    Raises RecipeRefused.
    """
    on, recipe_day, kept = asked["on"], asked["recipe_day"], asked.get("kept") or PricesKept()
    ids = {line.ingredient_id for line, _ in recipes.unfold(version, recipe_day)} - {None}
    pairs: set[Pair] = {(each, on) for each in ids if each is not None}
    if unknown := pairs - kept.prices.keys():
        kept.prices |= grid_prices(con, rule, unknown)
    prices = {pair[0]: kept.prices[pair] for pair in pairs if pair in kept.prices}
    missing = [each for each, price in prices.items() if price.basis == "missing"]
    if kept.errors is None and rule.basis == "bridged":
        kept.errors = typical_errors(con)
    return PricedRecipe(
        rule=rule,
        recipes=recipes,
        on=on,
        recipe_day=recipe_day,
        prices=prices,
        unpriced=sightings(con, missing, rule),
        errors=kept.errors,
    )
