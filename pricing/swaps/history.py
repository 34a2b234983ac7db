"""What a swap would have saved in a dish over the years, month by month."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Unpack

from pricing.answer import Answer
from pricing.book.connect import Book, reading
from pricing.book.read import read_settings
from pricing.clock import refuse_future
from pricing.days import DAY_OF_MONTH
from pricing.errors import UnknownName
from pricing.names import name_key, nearest
from pricing.prices.asked_rule import Filters, asked_rule
from pricing.swaps.dish_to_change import read_dish_to_change
from pricing.swaps.in_force import Swap
from pricing.swaps.saving import savings_per_unit

Bought = tuple[str | None, str | None, str | None]  # supplier, product and pack


@dataclass(frozen=True, kw_only=True)
class SavingPoint(Answer):
    """What the swap saves at the prices of one day; under 0 it costs more."""

    on: date
    saving: float | None  # currency per portion; None: a price is missing


@dataclass(frozen=True, kw_only=True)
class SwapHistory(Answer):
    """A swap in a dish as it is now, at the prices of each month's 15th, and of the last day."""

    dish: str
    version: str
    currency: str
    ingredient: str
    substitute: str
    points: tuple[SavingPoint, ...]  # ascending


def swap_history(
    book: Book,
    dish: str,
    swap: tuple[str, str],
    *,
    on: date,
    version: str | None = None,
    purchase: Bought = (None, None, None),
    **filters: Unpack[Filters],
) -> SwapHistory:
    """Return what a swap saves since the month in which the book's prices of it begin.

    `swap` is ingredient and substitute, `purchase` supplier, product and pack as the swap states
    them. The recipe stays as it is; only prices move.
    Raises UnknownName, DateRefused, RecipeRefused.
    """
    refuse_future(on)
    with reading(book) as con:
        settings = read_settings(con)
        rule = asked_rule(con, settings, **filters)
        changing = read_dish_to_change(con, rule, dish, on=on, version=version)
        found = _find(changing.swaps, swap, purchase)
        first = con.execute(
            "SELECT min(observed_on) FROM observation_now WHERE currency = $currency "
            "AND ingredient_id IN ($one, $other)",
            {
                "currency": rule.currency,
                "one": found.ingredient_id,
                "other": found.substitute_id or found.ingredient_id,
            },
        ).fetchone()
        days = _days((first or (None,))[0] or on, on)
        saving, _ = savings_per_unit(con, rule, [found], changing.recipes, days)
    quantity = changing.quantity[found.ingredient_id]
    return SwapHistory(
        dish=changing.cost.dish,
        version=changing.cost.version,
        currency=settings.currency,
        ingredient=found.ingredient,
        substitute=found.substitute,
        points=tuple(
            SavingPoint(on=day, saving=None if each != each else each * quantity)
            for day, each in zip(days, saving[0].tolist(), strict=True)
        ),
    )


def _find(swaps: tuple[Swap, ...], swap: tuple[str, str], purchase: Bought) -> Swap:
    ingredient, substitute = swap
    names = {f"{each.substitute} for {each.ingredient}": each for each in swaps}
    for each in swaps:
        wanted = name_key(ingredient), name_key(substitute)
        if (name_key(each.ingredient), name_key(each.substitute)) == wanted and (
            each.supplier, each.product, each.pack,
        ) == purchase:  # fmt: skip
            return each
    asked = f"{substitute} for {ingredient}"
    raise UnknownName("swap of this dish", asked, nearest(asked, names))


def _days(first: date, last: date) -> list[date]:
    """Return the 15th of each month from that of `first` on, before `last`, and `last` itself."""
    months = range(first.year * 12 + first.month - 1, last.year * 12 + last.month)
    days = [date(at // 12, at % 12 + 1, DAY_OF_MONTH) for at in months]
    return [*(day for day in days if day < last), last]
