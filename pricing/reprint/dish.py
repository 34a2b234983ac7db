"""One dish in a reprint round: the figure in print, today's, why, and the one to print."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from pricing.change.effects import PerPortion, effects
from pricing.contents.house_rules import HouseRules
from pricing.days import month_words
from pricing.dishes.recipes import Recipes, Version
from pricing.money import show_money
from pricing.prices.evidence import Pair
from pricing.printed.records import CheckedFigure
from pricing.reprint.records import DishToReprint, Part

Taken = tuple[PerPortion, PerPortion]  # per portion: of the recipe as printed, of the one to print
Seen = tuple[float | None, str | None]  # a unit price, and whose: shop, trade, any
NOTHING = 1e-12  # an effect under it is a last digit


@dataclass(frozen=True, kw_only=True)
class Sides:
    """The recipe as printed and the one to print."""

    now: Version
    then: Version | None  # None: never printed, or the book lost the version
    figure: CheckedFigure | None

    @property
    def dish(self) -> str:
        return self.now.dish

    @property
    def currency(self) -> str | None:
        return self.figure.currency if self.figure else None

    @property
    def then_on(self) -> date | None:
        return self.figure.costed_on if self.figure else None

    def taken(self, recipes: Recipes, on: date, *, pantry: bool) -> Taken:
        """Return what a portion takes then and now, each with the sub-recipes of its own day."""
        then: PerPortion = {}
        if self.then is not None and self.then_on is not None:
            then = recipes.per_portion(self.then, self.then_on, pantry=pantry)
        day = recipes.recipe_day(self.now, on)
        return then, recipes.per_portion(self.now, day, pantry=pantry)


def sides_of(recipes: Recipes, dish_id: int, figure: CheckedFigure | None, due: date) -> Sides:
    """Return the sides of a dish: to print is the version in force on the day of the reprint.

    A figure of a version that begins later keeps it: that issue is on its way.
    """
    now = recipes.in_force(dish_id, due)[0]
    then = None
    if figure is not None:
        versions = recipes.versions[dish_id]
        then = next((each for each in versions if each.version == figure.version), None)
    if then is not None and then.effective_from > due:
        now = then
    return Sides(now=now, then=then, figure=figure)


def to_reprint(
    sides: Sides,
    taken: Taken,
    names: Mapping[int, tuple[str, str | None]],
    seen: Mapping[Pair, Seen],
    asked: tuple[date, str, HouseRules],
) -> DishToReprint:
    """Return the dish costed by prices `seen`; `asked`: the day, currency and rules."""
    on, currency, house = asked
    figure, now = sides.figure, sides.now
    unit_prices = {pair: price for pair, (price, _) in seen.items()}
    cost = _cost(taken[1], unit_prices, on)
    new = house.figure(cost, currency) if cost is not None else None
    if new is not None and new <= 0:
        new = None
    return DishToReprint(
        dish=sides.dish,
        version=now.version,
        currency=currency,
        portions=now.portions,
        printed=figure.printed if figure else None,
        printed_version=figure.version if figure else None,
        published_on=figure.published_on if figure else None,
        costed_on=figure.costed_on if figure else None,
        recosted_now=cost,
        new_figure=new,
        sentence=None
        if new is None
        else house.say(
            dish=sides.dish,
            cost=show_money(new, currency),
            portions=f"{now.portions:g}",
            month=month_words(on),
        ),
        missing=tuple(
            sorted(names[each][0] for each in taken[1] if unit_prices.get((each, on)) is None)
        ),
        **_why(sides, taken, names, unit_prices, (on, cost)),
        other_market=_other_market(sides, taken[0], names, seen, on),
    )


def _why(
    sides: Sides,
    taken: Taken,
    names: Mapping[int, tuple[str, str | None]],
    unit_prices: Mapping[Pair, float | None],
    now: tuple[date, float | None],
) -> dict[str, Any]:
    """Return the change of a printed figure in its parts; nothing of one never printed."""
    (on, cost), figure, then_on = now, sides.figure, sides.then_on
    if figure is None or then_on is None or sides.then is None:
        change = None if figure is None or cost is None else cost - figure.printed
        nothing = dict.fromkeys(("printed_off", "price_effect", "recipe_effect"))
        return {**nothing, "change": change, "by_price": (), "by_recipe": (), "left_out": ()}
    parts = effects(names, taken, unit_prices, (then_on, on))
    kept = [each for each in parts if not each.left_out]
    then = _cost(taken[0], unit_prices, then_on)
    return {
        "change": None if cost is None else cost - figure.printed,
        "printed_off": None if then is None else then - figure.printed,
        "price_effect": sum(each.price_effect or 0.0 for each in kept),
        "recipe_effect": sum(each.recipe_effect or 0.0 for each in kept),
        "by_price": _ranked((each.ingredient, each.price_effect) for each in kept),
        "by_recipe": _ranked((each.ingredient, each.recipe_effect) for each in kept),
        "left_out": tuple(sorted(each.ingredient for each in parts if each.left_out)),
    }


def _ranked(parts: Iterable[tuple[str, float | None]]) -> tuple[Part, ...]:
    told = [Part(ingredient=name, effect=by) for name, by in parts if by and abs(by) > NOTHING]
    return tuple(sorted(told, key=lambda each: (-abs(each.effect), each.ingredient)))


def _cost(taken: PerPortion, prices: Mapping[Pair, float | None], on: date) -> float | None:
    total = 0.0
    for each, quantity in taken.items():
        price = prices.get((each, on))
        if quantity is None or price is None:
            return None
        total += quantity * price
    return total


def _other_market(
    sides: Sides,
    then: PerPortion,
    names: Mapping[int, tuple[str, str | None]],
    seen: Mapping[Pair, Seen],
    on: date,
) -> tuple[str, ...]:
    if sides.then_on is None:
        return ()
    found = []
    for each in then:
        markets = {seen[each, day][1] for day in (sides.then_on, on)} - {None}
        if len(markets) > 1:
            found.append(names[each][0])
    return tuple(sorted(found))
