"""The cost of one dish on one date, line by line, with the evidence of every price."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import TypedDict, Unpack

from pricing.answer import Answer
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import Settings, read_settings
from pricing.clock import asked_day
from pricing.contents.house_rules import HouseRules
from pricing.days import Day, read_day
from pricing.dishes.allergens import AllergensOfDish, allergens_of_dish
from pricing.dishes.cost_lines import PricedRecipe, PricesKept, price_recipe
from pricing.dishes.recipes import Recipes, Version, read_dish
from pricing.errors import InputRefused
from pricing.money import show_money
from pricing.prices.asked_rule import asked_rule
from pricing.prices.bridge_error import CostBand, OpenPart, TypicalError, cost_band
from pricing.prices.evidence import weakest
from pricing.prices.price_line import CostLine
from pricing.prices.rule import Rule

MOST_PORTIONS = 1_000_000  # to which a recipe can be scaled


@dataclass(frozen=True, kw_only=True)
class DishCost(Answer):
    """A dish costed on a date (contract §3)."""

    dish: str
    version: str
    version_in_force: bool  # is the version used the one in force on `on`
    on: date
    recipe_day: date  # whose sub-recipes count
    currency: str
    market: str  # whose prices were asked for: shop, trade or any
    portions: float  # per batch; those asked for, where the recipe was scaled
    recipe_portions: float  # per batch as the recipe is written
    batch_weight_g: float | None  # of so many portions; None: not stated
    complete: bool  # false: the costs are "at least", the sum of the priced lines
    cost_per_batch: float
    cost_per_portion: float
    pantry_per_portion: float  # the part of it from lines marked pantry
    display: dict[str, str]
    lines: tuple[CostLine, ...]
    allergens: AllergensOfDish
    basis: str  # the basis asked for
    band: CostBand | None = None  # per portion, what its prices leave open; None: nothing
    minutes: float | None = None  # of work per batch, as the dish states; without sub-recipes'
    work_per_portion: float | None = None  # priced by the book's rate; never part of the costs
    to_print: Decimal | None = None  # by the house's rules of rounding and of the store cupboard

    def as_json(self) -> dict[str, object]:
        answer = super().as_json()
        for key in ("work_per_portion", "to_print"):  # only where the book prices work, has rules
            if answer[key] is None:
                del answer[key]
        return answer

    def ingredient_lines(self) -> Iterator[CostLine]:
        """Yield the ingredient lines, those of sub-recipes in their place."""
        for line in self.lines:
            yield from line.ingredient_lines()


def cost_dish(
    book: Book,
    dish: str,
    *,
    on: Day,
    version: str | None = None,
    recipe_day: Day | None = None,
    basis: str = "bridged",
    market: str | None = None,
    supplier: str | None = None,
    not_supplier: Sequence[str] = (),
    region: str | None = None,
    offers: bool = False,
    pantry: bool = True,
    scaled_to: float | None = None,
) -> DishCost:
    """Cost a dish at the prices of a date.

    `version` defaults to the one in force on `on`; sub-recipes are those of `recipe_day`, which is
    `on` where the version is in force then, else the last day it was, else the day it begins.
    `market` is shop, trade or any (the book's setting unless stated).
    `basis` is "bridged" (an old price may be moved by its official series) or "observed".
    `supplier` and `region` keep only prices from there, `not_supplier` leaves suppliers out;
    `offers` lets offers count; without `pantry` the lines marked so are left out; `scaled_to` so
    many portions the recipe is scaled, and a batch is then so many.
    Raises UnknownName, InputRefused, DateRefused (after today), RecipeRefused, BookUnreadable.
    """
    on = asked_day(on)
    if scaled_to is not None and not 0 < scaled_to <= MOST_PORTIONS:
        raise InputRefused(
            f"Found {scaled_to:g} portions; expected a number above 0, up to {MOST_PORTIONS:,}. "
            "Correct it."
        )
    with reading(book) as con:
        settings = read_settings(con)
        rule = asked_rule(
            con, settings, basis=basis, market=market, supplier=supplier,
            not_supplier=not_supplier, region=region, offers=offers,
        )  # fmt: skip
        return cost_in(
            con, rule, dish, on=on, version=version,
            recipe_day=None if recipe_day is None else read_day(recipe_day),
            settings=settings, pantry=pantry, scaled_to=scaled_to,
        )  # fmt: skip


class Recipe(TypedDict, total=False):
    """Which recipe of a dish is costed, and how much of it; as in `cost_dish`."""

    version: str | None
    recipe_day: date | None
    pantry: bool
    scaled_to: float | None
    settings: Settings | None  # of the book, where they have been read already
    kept: PricesKept | None  # of the same state of the book, by the same rule


def cost_in(
    con: Connection, rule: Rule, dish: str, *, on: date, **recipe: Unpack[Recipe]
) -> DishCost:
    """`cost_dish` by a rule, in an open book. Raises UnknownName, RecipeRefused."""
    dish_id, recipes = read_dish(con, dish)
    version = recipe.get("version")
    current, _ = recipes.in_force(dish_id, on)
    costed = current if version is None else recipes.named(dish_id, version)
    return cost_read(con, rule, recipes, costed, on=on, **recipe)


def cost_read(
    con: Connection,
    rule: Rule,
    recipes: Recipes,
    costed: Version,
    *,
    on: date,
    **recipe: Unpack[Recipe],
) -> DishCost:
    """Cost a version among recipes that have been read. Raises RecipeRefused."""
    settings = recipe.get("settings") or read_settings(con)
    current, started = recipes.in_force(costed.dish_id, on)
    day = recipe.get("recipe_day") or recipes.recipe_day(costed, on)
    kept = recipe.get("kept")
    priced = price_recipe(con, rule, recipes, costed, on=on, recipe_day=day, kept=kept)
    portions = recipe.get("scaled_to") or costed.portions  # never 0
    lines = _lines(priced, costed, portions, pantry=recipe.get("pantry", True))
    total = sum(line.cost or 0.0 for line in lines)
    flat = [each for line in lines for each in line.ingredient_lines()]
    per_portion = total / portions
    complete = all(line.basis != "missing" for line in flat)
    return DishCost(
        dish=costed.dish,
        version=costed.version,
        version_in_force=started and costed.row == current.row,
        on=on,
        recipe_day=day,
        currency=rule.currency,
        market=rule.market,
        portions=portions,
        recipe_portions=costed.portions,
        batch_weight_g=costed.weight_g(portions),
        complete=complete,
        cost_per_batch=total,
        cost_per_portion=per_portion,
        pantry_per_portion=sum(line.cost or 0.0 for line in flat if line.pantry) / portions,
        display={"cost_per_portion": _shown(per_portion, rule.currency, complete)},
        lines=tuple(_with_shares(line, total) for line in lines),
        allergens=allergens_of_dish(recipes, (costed, day), settings.allergen_list),
        basis=rule.basis,
        band=cost_band(per_portion, _open_parts(flat, portions)),
        minutes=costed.minutes,  # of the recipe as it is: work does not grow with the batch
        work_per_portion=_work_per_portion(settings, rule, costed),
        to_print=_to_print(settings, rule, flat, portions) if complete else None,
    )


def _shown(amount: float, currency: str, complete: bool) -> str:
    words = show_money(amount, currency)
    return words if complete else f"at least {words}"


def _to_print(
    settings: Settings, rule: Rule, lines: Sequence[CostLine], portions: float
) -> Decimal | None:
    """Return the figure to print of a costing; None where the house has no rules of its own."""
    house = HouseRules.of(settings)
    if not house.stated:
        return None
    counted = sum(line.cost or 0.0 for line in lines if house.pantry or not line.pantry)
    return house.figure(counted / portions, rule.currency)


def _work_per_portion(settings: Settings, rule: Rule, version: Version) -> float | None:
    """Return what the minutes of work of a batch cost a portion; None without them or a rate."""
    rate, minutes = settings.rate_per_hour, version.minutes
    if minutes is None or rate is None or settings.currency != rule.currency:
        return None
    return minutes / 60 * rate / version.portions


def _lines(
    priced: PricedRecipe, costed: Version, portions: float, *, pantry: bool
) -> tuple[CostLine, ...]:
    """Return the lines of so many portions; without `pantry` those not marked so."""
    lines = priced.lines(costed, portions / costed.portions, pantry=False, path=())
    return lines if pantry else tuple(_without_pantry(lines))


def _without_pantry(lines: Iterable[CostLine]) -> Iterator[CostLine]:
    """Yield the lines that are not marked pantry, sub-recipes without theirs."""
    for line in lines:
        if line.lines:
            kept = tuple(_without_pantry(line.lines))
            if kept:
                cost = sum(each.cost or 0.0 for each in kept)
                yield replace(line, lines=kept, cost=cost, basis=weakest(e.basis for e in kept))
        elif not line.pantry:
            yield line


def _open_parts(lines: Sequence[CostLine], portions: float) -> Iterator[OpenPart]:
    """Yield what each line adds to the band of the cost per portion."""
    for line in lines:
        pct, source = line.typical_error_pct, line.typical_error_from
        if line.cost is not None and pct is not None and source is not None:
            yield OpenPart(
                ingredient=line.ingredient,
                cost=line.cost / portions,
                error=TypicalError(pct=pct, source=source),
                bridged=line.basis == "bridged",
                spread=line.spread_pct is not None,
            )


def _with_shares(line: CostLine, total: float) -> CostLine:
    """Return the line with its share of `total`, and those inside it."""
    return replace(
        line,
        share=line.cost / total if line.cost is not None and total > 0 else None,
        lines=tuple(_with_shares(inside, total) for inside in line.lines),
    )
