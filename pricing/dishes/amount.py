"""How much of an ingredient a dish may take at a target, and which portion meets it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date
from typing import Unpack

from pricing.answer import Answer
from pricing.book.connect import Book
from pricing.days import Day, day_words
from pricing.dishes.cost import DishCost, cost_dish
from pricing.errors import InputRefused, NotComplete, UnknownName
from pricing.names import find
from pricing.prices.asked_rule import Filters
from pricing.prices.price_line import CostLine

_SNAP = 1e-9  # of a portion: a whole number of them that the last digit hides is one


@dataclass(frozen=True, kw_only=True)
class AmountAtTarget(Answer):
    """A dish at a target per portion: by the amount of one ingredient, or by smaller portions."""

    dish: str
    version: str
    ingredient: str
    on: date
    currency: str
    target: float  # per portion
    portions: float  # per batch
    cost_per_portion: float
    base: str  # of the amounts: g, ml or each
    unit_price: float  # per base unit, as purchased
    amount_now: float  # as purchased per batch, in all lines of it
    amount: float | None  # that may go in at the target; None: the rest alone costs more
    rest_per_portion: float  # cost of all else
    reached: bool  # the cost is within the target as it is
    portions_at_target: int  # the fewest whole portions of the batch that meet it
    portion_share: float  # of a portion now that is then a portion
    portion_g: float | None  # what that portion weighs; None: the weight of a batch is not stated


def amount_at_target(
    book: Book,
    dish: str,
    ingredient: str,
    *,
    target: float,
    on: Day,
    version: str | None = None,
    **filters: Unpack[Filters],
) -> AmountAtTarget:
    """Return how much of an ingredient may go into a batch for a portion to cost the target.

    The rest of the recipe stays as it is, and so does the number of portions. Beside it: into how
    many portions the batch as it is must be cut. An ingredient in several lines, those of
    sub-recipes too, is counted in all of them. `filters` say whose prices count, as in `cost_dish`.
    Raises NotComplete (a line has no price), InputRefused (a target that is not above nothing),
    UnknownName, DateRefused, RecipeRefused, BookUnreadable.
    """
    cost = cost_dish(book, dish, on=on, version=version, **filters)
    return amount_in(cost, ingredient, target=target)


def amount_in(cost: DishCost, ingredient: str, *, target: float) -> AmountAtTarget:
    """`amount_at_target` of a dish that has been costed.

    Raises NotComplete, InputRefused, UnknownName.
    """
    _refuse_target(target)
    lines = _lines_of(cost, ingredient)
    one = lines[0]
    if not cost.complete or one.unit_price is None or one.base is None:
        raise NotComplete(
            f"Found a line of '{cost.dish}' without a price on {day_words(cost.on)}; expected "
            "every line priced: a cost that is only at least meets no target. Log the price first."
        )
    spent = sum(line.cost or 0.0 for line in lines)
    rest = cost.cost_per_batch - spent
    room = target * cost.portions - rest
    needed = cost.cost_per_batch / target
    fewest = max(1, math.ceil(needed - _SNAP * needed))
    return AmountAtTarget(
        dish=cost.dish,
        version=cost.version,
        ingredient=one.ingredient,
        on=cost.on,
        currency=cost.currency,
        target=target,
        portions=cost.portions,
        cost_per_portion=cost.cost_per_portion,
        base=one.base,
        unit_price=one.unit_price,
        amount_now=sum(line.as_purchased or 0.0 for line in lines),
        amount=room / one.unit_price if room > 0 else None,
        rest_per_portion=rest / cost.portions,
        reached=cost.cost_per_portion <= target + _SNAP,
        portions_at_target=fewest,
        portion_share=cost.portions / fewest,
        portion_g=None if cost.batch_weight_g is None else cost.batch_weight_g / fewest,
    )


def _refuse_target(target: float) -> None:
    if not 0 < target < math.inf:
        raise InputRefused(
            f"Found the target {target:g}; expected an amount above nothing for a portion. "
            "Correct it."
        )


def _lines_of(cost: DishCost, ingredient: str) -> list[CostLine]:
    found: dict[str, list[CostLine]] = {}
    for line in cost.ingredient_lines():
        found.setdefault(line.ingredient, []).append(line)
    if not found:
        raise UnknownName("ingredient", ingredient, remedy=f"'{cost.dish}' has no ingredient.")
    return find(ingredient, found, kind=f"ingredient of '{cost.dish}'")
