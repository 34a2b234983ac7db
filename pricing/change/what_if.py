"""What a change of the price of an ingredient, or of a whole category, would do to every dish."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from pricing.answer import Answer
from pricing.book.connect import Book, reading
from pricing.book.read import read_settings
from pricing.clock import refuse_future
from pricing.contents.choices import ListedIngredient, ingredients_in
from pricing.dishes.counted import read_counted
from pricing.dishes.recipes import find_dish
from pricing.errors import InputRefused, UnknownName
from pricing.names import name_key, nearest
from pricing.prices.asked_rule import asked_rule

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from pricing.dishes.matrix import Catalogue

_ASKED = re.compile(r"(?P<name>.+?)\s*=\s*(?P<sign>[+\-−])\s*(?P<percent>\d+(\.\d+)?)\s*%\s*")


@dataclass(frozen=True, kw_only=True)
class PriceChange(Answer):
    """A change of price that was asked about."""

    name: str  # of an ingredient or a category, as the book writes it
    ingredients: tuple[str, ...]  # that it moves
    percent: float


@dataclass(frozen=True, kw_only=True)
class DishIf(Answer):
    """One dish with and without the changes. Money per portion."""

    dish: str
    cost_now: float
    cost_if: float
    change: float
    complete: bool  # every line has a price; else both costs are "at least"


@dataclass(frozen=True, kw_only=True)
class WhatIf(Answer):
    """Dishes with and without some changes of price, the dish that changes most first."""

    currency: str
    on: date
    changes: tuple[PriceChange, ...]
    mean_now: float
    mean_if: float
    dishes: tuple[DishIf, ...]


def cost_if(
    book: Book,
    asked: Sequence[str],
    dishes: Sequence[str] | None = None,
    *,
    on: date,
    market: str | None = None,
    not_supplier: Sequence[str] = (),
) -> WhatIf:
    """Cost dishes (None or empty: all that count in means) on a day, at prices changed as `asked`.

    Each text is NAME=+20% or NAME=-5%; NAME is an ingredient or a category (an
    ingredient's own name goes first). Two changes of one ingredient follow on each other.
    `market` and `not_supplier` are those of `pricing.change.drivers.rank_drivers`.
    Raises InputRefused, UnknownName, DateRefused, RecipeRefused, BookUnreadable.
    """
    from pricing.dishes.two_days import two_days  # numpy and scipy only when they are needed

    refuse_future(on)
    with reading(book) as con:
        settings = read_settings(con)
        known = ingredients_in(con)
        changes = tuple(_change(text, known) for text in asked)
        ids = [find_dish(con, dish) for dish in dishes] if dishes else None
        catalogue = read_counted(con, ids).catalogue
        told: Any = {"currency": settings.currency, "on": on, "changes": changes}
        if not catalogue.dishes:
            return WhatIf(**told, mean_now=0.0, mean_if=0.0, dishes=())
        rule = asked_rule(con, settings, market=market, not_supplier=not_supplier)
        found = two_days(con, rule, catalogue, (on, on))
    quantity, price = found.quantity[1], found.price[1]
    now = quantity @ price
    then_if = quantity @ (price * _factors(catalogue, known, changes))
    costs = zip(now.tolist(), then_if.tolist(), found.complete().tolist(), strict=True)
    rows = [
        DishIf(dish=dish, cost_now=a, cost_if=b, change=b - a, complete=complete)
        for dish, (a, b, complete) in zip(catalogue.dishes, costs, strict=True)
    ]
    return WhatIf(
        **told,
        mean_now=float(now.mean()),
        mean_if=float(then_if.mean()),
        dishes=tuple(sorted(rows, key=lambda row: (-abs(row.change), row.dish))),
    )


def _factors(
    catalogue: Catalogue, known: Sequence[ListedIngredient], changes: Sequence[PriceChange]
) -> NDArray[np.float64]:
    """Return by what factor the changes move the price of each ingredient of the catalogue."""
    import numpy as np

    factor = np.ones(len(catalogue.ingredient_ids))
    place = {each: at for at, each in enumerate(catalogue.ingredient_ids.tolist())}
    by_name = {each.ingredient: each.ingredient_id for each in known}
    for change in changes:
        for name in change.ingredients:
            if by_name[name] in place:
                factor[place[by_name[name]]] *= 1 + change.percent / 100
    return factor


def _change(text: str, known: Sequence[ListedIngredient]) -> PriceChange:
    found = _ASKED.fullmatch(text.strip())
    if found is None:
        raise InputRefused(
            f"Found the change '{text}'; expected NAME=+20% or NAME=-5%, where NAME is an "
            "ingredient or a category. Write it so, in quotes."
        )
    percent = float(found["percent"]) * (1 if found["sign"] == "+" else -1)
    if percent <= -100:
        raise InputRefused(
            f"Found a fall of {found['percent']} %; expected less than 100 %, since a price stays "
            "above nothing. Correct the change."
        )
    key = name_key(found["name"])
    one = [each for each in known if name_key(each.ingredient) == key]
    category = [each for each in known if each.category and name_key(each.category) == key]
    if not one and not category:
        names = [each.ingredient for each in known]
        names += sorted({each.category for each in known if each.category})
        raise UnknownName("ingredient or category", found["name"], nearest(found["name"], names))
    moved = one or category
    name = moved[0].ingredient if one else str(moved[0].category)
    return PriceChange(
        name=name, ingredients=tuple(each.ingredient for each in moved), percent=percent
    )
