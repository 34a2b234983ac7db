"""The records of a comparison: its sides, its corners, each ingredient, and the whole."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from pricing.answer import Answer
from pricing.change.price_parts import PriceParts
from pricing.change.recipe_parts import RecipeParts
from pricing.days import Day
from pricing.dishes.allergens import AllergensChanged

When = Day | tuple[Day, str]  # a date, or a date and a version


@dataclass(frozen=True, kw_only=True)
class State(Answer):
    """One side of a comparison."""

    on: date
    recipe_day: date  # whose sub-recipes it takes, also at the prices of the other side
    version: str
    version_in_force: bool
    portions: float  # per batch


@dataclass(frozen=True, kw_only=True)
class Corners(Answer):
    """Cost per portion of each recipe at each date's prices, of what is not left out."""

    then_recipe_then: float
    then_recipe_now: float
    now_recipe_then: float | None  # None: an ingredient of it has no price then
    now_recipe_now: float


@dataclass(frozen=True, kw_only=True)
class IngredientChange(Answer):
    """What one ingredient did to the change. Quantities per portion, as purchased."""

    ingredient: str
    base: str
    quantity_then: float | None  # None: it cannot be told in the base unit
    quantity_now: float | None
    unit_price_then: float | None
    unit_price_now: float | None
    price_effect: float | None  # quantity_then × (unit_price_now − unit_price_then)
    recipe_effect: float | None  # (quantity_now − quantity_then) × unit_price_now
    marked: bool  # its market was settled for both dates: market_then, market_now
    market_then: str | None  # shop or trade; None unless marked
    market_now: str | None
    left_out: bool  # it cannot be compared: no effects, in none of the corners
    price_parts: PriceParts | None = None  # they add up to price_effect; None = not worked out
    recipe_parts: RecipeParts | None = None  # they add up to recipe_effect


@dataclass(frozen=True, kw_only=True)
class LeftOut(Answer):
    """An ingredient that a comparison does without."""

    ingredient: str
    reason: str


@dataclass(frozen=True, kw_only=True)
class OfficialFigure(Answer):
    """The old cost moved by an official series, or why it could not be."""

    series: str
    title: str | None
    amount: float | None
    held_at: str | None
    reason: str | None


@dataclass(frozen=True, kw_only=True)
class OwnBasket(Answer):
    """The old cost moved by the dish's own ingredients: the recipe of then at the prices of now."""

    amount: float
    factor: float | None  # amount ÷ cost then, a Lowe index on the recipe of then; None = no cost


@dataclass(frozen=True, kw_only=True)
class Comparison(Answer):
    """A dish then and now (contract §3). Money per portion."""

    dish: str
    currency: str
    then: State
    now: State
    corners: Corners
    change: float  # = price_effect + recipe_effect
    price_effect: float  # what the old recipe costs more now than then
    recipe_effect: float  # what the new recipe costs more now than the old one now
    ingredients: tuple[IngredientChange, ...]  # largest effect first, those left out last
    left_out: tuple[LeftOut, ...]
    price_parts: PriceParts  # sums over the ingredients
    recipe_parts: RecipeParts
    rebased: tuple[OfficialFigure, ...]
    rebased_own: OwnBasket
    allergens: AllergensChanged
    complete: bool  # nothing is left out

    @property
    def compared(self) -> tuple[IngredientChange, ...]:
        """The ingredients that are not left out."""
        return tuple(each for each in self.ingredients if not each.left_out)
