"""What a version costs that the book does not hold: the same rule, without storing it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from pricing.book import known
from pricing.book.connect import Connection
from pricing.book.known import KnownIngredient
from pricing.book.read import read_settings
from pricing.dishes.cost import DishCost, cost_read
from pricing.dishes.cost_lines import PricesKept
from pricing.dishes.recipes import Line, Recipes, Version, read_recipes
from pricing.errors import MeasureRefused
from pricing.measures.quantities import IngredientFacts, Quantity, in_base
from pricing.money import show_money
from pricing.names import name_key
from pricing.prices.rule import Rule

NEW = -1  # in place of the ids of a dish and of a version that the book does not hold


@dataclass(frozen=True, kw_only=True)
class GivenLine:
    """One line that was read: an ingredient of the book, or a dish of it."""

    ingredient_id: int | None
    sub_dish_id: int | None
    name: str
    quantity: str  # as written
    unit: str  # as written
    amount: Decimal  # in `dimension`
    dimension: str  # g, ml, each, measure, portion or batch
    measure_key: str | None
    state: str  # as_purchased or edible
    yield_pct: Decimal | None  # of the line; None: the ingredient's
    pantry: bool


@dataclass(frozen=True, kw_only=True)
class GivenVersion:
    """A version to be costed; it takes the place of the book's of the same label."""

    dish: str
    version: str
    effective_from: date
    portions: float
    batch_weight_g: float | None
    minutes: float | None
    lines: Sequence[GivenLine]
    whole: bool  # false: it has lines that cannot be read, so that its cost is "at least"


def cost_given(
    con: Connection,
    rule: Rule,
    given: GivenVersion,
    days: Sequence[date],
    kept: PricesKept | None = None,
) -> list[DishCost]:
    """Cost a version as it would be costed once stored, on each of the days.

    Its lines stand in the answer in the order given. `kept` holds the prices of earlier costings in
    this state of the book. Raises RecipeRefused: it takes itself, or a
    dish by weight that states none.
    """
    settings = read_settings(con)
    recipes, version = _with_it(con, given)
    found = [
        cost_read(con, rule, recipes, version, on=on, settings=settings, kept=kept) for on in days
    ]
    return found if given.whole else [_at_least(cost) for cost in found]


def _with_it(con: Connection, given: GivenVersion) -> tuple[Recipes, Version]:
    """Return what the book holds of the dish and of all it takes, with the version among it."""
    dish_id, dish = known.dishes(con).get(name_key(given.dish), (NEW, given.dish))
    subs = {line.sub_dish_id for line in given.lines} - {None}
    recipes = read_recipes(con, {each for each in (*subs, dish_id) if each and each != NEW})
    version = Version(
        row=NEW, dish_id=dish_id, dish=dish, version=given.version,
        effective_from=given.effective_from, portions=given.portions,
        batch_weight_g=given.batch_weight_g, group=None, minutes=given.minutes,
        made_per_month=None, target=None,
    )  # fmt: skip
    there = recipes.versions.get(dish_id, [])
    both = [version if each.version == given.version else each for each in there]
    if version not in both:
        both.append(version)
    recipes.versions[dish_id] = sorted(both, key=lambda each: each.effective_from)
    recipes.lines[NEW] = _lines(con, given.lines)
    return recipes, version


def _lines(con: Connection, given: Sequence[GivenLine]) -> list[Line]:
    ingredients = {each.ingredient_id: each for each in known.ingredients(con)}
    own = known.measures(con)
    return [
        _line(place, line, ingredients.get(line.ingredient_id or 0), own)
        for place, line in enumerate(given, start=1)
    ]


def _line(
    place: int,
    line: GivenLine,
    ingredient: KnownIngredient | None,
    own: Mapping[int, Mapping[str, known.KnownMeasure]],
) -> Line:
    """Return a line as the view dish_line_bought has it (migration 0005)."""
    used_pct: Decimal | None = Decimal(100)
    if line.state == "edible":
        used_pct = line.yield_pct or (None if ingredient is None else ingredient.yield_pct)
    bought = None
    if ingredient is not None and used_pct is not None:
        amount = _in_base(line, ingredient, own.get(ingredient.ingredient_id, {}))
        bought = None if amount is None else amount / (float(used_pct) / 100)
    return Line(
        position=place,
        ingredient_id=line.ingredient_id,
        sub_dish_id=line.sub_dish_id,
        name=line.name if ingredient is None else ingredient.name,
        quantity=line.quantity,
        unit=line.unit,
        amount=float(line.amount),
        dimension=line.dimension,
        state=line.state,
        pantry=line.pantry,
        base=None if ingredient is None else ingredient.base,
        as_purchased=bought,
        trim=None if used_pct is None else 100 / float(used_pct),
        allergens=None if ingredient is None else ingredient.allergens,
    )


def _in_base(
    line: GivenLine, ingredient: KnownIngredient, own: Mapping[str, known.KnownMeasure]
) -> float | None:
    facts = IngredientFacts(
        base=ingredient.base,
        density_g_per_ml=ingredient.density_g_per_ml,
        grams_each=ingredient.grams_each,
        grams_by_measure={key: each.grams for key, each in own.items()},
    )
    quantity = Quantity(amount=line.amount, dimension=line.dimension, measure_key=line.measure_key)
    try:
        return in_base(quantity, facts)
    except MeasureRefused:
        return None


def _at_least(cost: DishCost) -> DishCost:
    shown = show_money(cost.cost_per_portion, cost.currency)
    return replace(cost, complete=False, display={"cost_per_portion": f"at least {shown}"})
