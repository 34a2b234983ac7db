"""Which dishes use an ingredient, and what it costs in a portion of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from pricing.answer import Answer
from pricing.book.connect import Book, reading
from pricing.book.read import read_settings
from pricing.clock import asked_day
from pricing.contents.choices import find_ingredient
from pricing.days import Day
from pricing.dishes.counted import read_counted
from pricing.prices.asked_rule import asked_rule


@dataclass(frozen=True, kw_only=True)
class Use(Answer):
    """An ingredient in one dish, its sub-recipes counted in. Money per portion."""

    dish: str
    quantity: float  # as purchased per portion, in the ingredient's base unit
    cost: float | None  # None: it has no price
    share: float | None  # of the cost of the dish, 0 to 1


def dishes_with(
    book: Book,
    ingredient: str,
    *,
    on: Day,
    market: str | None = None,
    not_supplier: Sequence[str] = (),
) -> list[Use]:
    """Return the dishes that use an ingredient on a day, those in which it costs most first.

    Each in its version in force; drafts and half-products are left out. Raises UnknownName,
    DateRefused (a date after today), RecipeRefused, BookUnreadable.
    """
    from pricing.dishes.two_days import two_days  # numpy and scipy only when they are needed

    on = asked_day(on)
    with reading(book) as con:
        rule = asked_rule(con, read_settings(con), market=market, not_supplier=not_supplier)
        ingredient_id = find_ingredient(con, ingredient).ingredient_id
        catalogue = read_counted(con, None).catalogue
        if ingredient_id not in catalogue.ingredient_ids:
            return []
        taken = catalogue.on(con, on).quantities.tocsc()
        found = two_days(con, rule, catalogue, (on, on))
    place = int((catalogue.ingredient_ids == ingredient_id).argmax())
    price = float(found.seen_price[1][place])
    costs = found.quantity[1] @ found.price[1]
    rows = taken.indices[taken.indptr[place] : taken.indptr[place + 1]]
    uses = []
    for row in rows.tolist():
        quantity = float(taken[row, place])
        cost = quantity * price if price == price else None  # NaN: it has none
        share = cost / float(costs[row]) if cost is not None and costs[row] > 0 else None
        uses.append(Use(dish=catalogue.dishes[row], quantity=quantity, cost=cost, share=share))
    return sorted(uses, key=lambda use: (-(use.cost or 0.0), use.dish))
