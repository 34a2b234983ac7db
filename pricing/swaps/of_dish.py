"""Cheaper choices for a dish: what each swap saves, since when, and what it does to allergens."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from pricing.book.connect import Book, Connection, reading
from pricing.book.read import read_settings
from pricing.clock import asked_day
from pricing.days import Day
from pricing.names import find, waiting_words
from pricing.prices.asked_rule import asked_rule
from pricing.prices.bridge_error import ErrorTable, typical_errors
from pricing.prices.evidence import GridPrice, grid_prices, weakest
from pricing.prices.rule import Rule
from pricing.swaps.allergens import DishAllergens, dish_allergens
from pricing.swaps.dish_to_change import DishToChange, read_dish_to_change
from pricing.swaps.evidence import (
    PriceEvidence,
    evidence,
    evidence_of_dish,
    saving_error,
)
from pricing.swaps.in_force import Swap
from pricing.swaps.records import CAUTION, SwapChoice, Swaps
from pricing.swaps.saving import Goods, Since, cheaper_since, in_its_place
from pricing.swaps.swap import DISH
from pricing.swaps.target import TargetAsked, reach_target


def find_swaps(
    book: Book,
    dish: str,
    *,
    on: Day,
    version: str | None = None,
    target: float | None = None,
    keep: Collection[str] = (),
    least_disturbing: bool = False,
    market: str | None = None,
    not_supplier: Sequence[str] = (),
) -> Swaps:
    """Return what each swap would save in a dish at the prices of a date.

    All lines of the ingredient are swapped, those of sub-recipes included. A swap is not offered
    where it is stated not to work, nor where a dish would end up in itself. `keep` names
    ingredients that stay. With a `target` (currency per portion) the fewest swaps that reach it are
    chosen; with `least_disturbing` those with the least sum of stated disturbances (1 where none is
    stated). Raises UnknownName, DateRefused, InputRefused (a target of 0 or less), RecipeRefused.
    """
    weighed = weigh_swaps(
        book, dish, on=on, version=version, market=market, not_supplier=not_supplier
    )
    return choose_swaps(weighed, target=target, keep=keep, least_disturbing=least_disturbing)


@dataclass(frozen=True, kw_only=True)
class WeighedSwaps:
    """The swaps of a dish with all that does not depend on a target; it needs the book no more."""

    currency: str
    allergen_list: str
    changing: DishToChange
    choices: tuple[SwapChoice, ...]  # of `changing.swaps`, one for one
    allergens: DishAllergens
    ingredients: tuple[str, ...]  # every name, to say which stay


def weigh_swaps(
    book: Book,
    dish: str,
    *,
    on: Day,
    version: str | None = None,
    market: str | None = None,
    not_supplier: Sequence[str] = (),
) -> WeighedSwaps:
    """Return the figures of every swap in a dish, from which `choose_swaps` answers at once.

    Raises as `find_swaps`.
    """
    on = asked_day(on)
    with reading(book) as con:
        settings = read_settings(con)
        rule = asked_rule(con, settings, market=market, not_supplier=not_supplier)
        changing = read_dish_to_change(con, rule, dish, on=on, version=version)
        figures = _read_figures(con, rule, changing)
        since = cheaper_since(con, rule, changing.swaps, changing.recipes, on)
    return WeighedSwaps(
        currency=settings.currency,
        allergen_list=settings.allergen_list,
        changing=changing,
        choices=tuple(
            figures.choice(swap, days) for swap, days in zip(changing.swaps, since, strict=True)
        ),
        allergens=figures.allergens,
        ingredients=tuple(name for name in figures.names.values() if not waiting_words(name)),
    )


def choose_swaps(
    weighed: WeighedSwaps,
    *,
    target: float | None = None,
    keep: Collection[str] = (),
    least_disturbing: bool = False,
) -> Swaps:
    """Return the swaps of a dish, with a target those that reach it. Raises as `find_swaps`."""
    changing, found = weighed.changing, weighed.choices
    names = {each: each for each in weighed.ingredients}
    locked = tuple(find(each, names, kind="ingredient") for each in keep)
    reached = None
    if target is not None:
        asked = TargetAsked(amount=target, keep=locked, least_disturbing=least_disturbing)
        reached = reach_target(changing, [each.saving for each in found], weighed.allergens, asked)
    cost = changing.cost
    return Swaps(
        dish=cost.dish, version=cost.version, on=changing.on, currency=weighed.currency,
        cost_per_portion=cost.cost_per_portion, complete=cost.complete,
        swaps=tuple(sorted(found, key=_by_saving)),
        target=reached,
        dish_target=changing.version.target,
        locked=locked,
        elsewhere=tuple(each.in_words() for each in changing.elsewhere),
        allergen_list=weighed.allergen_list,
        caution=CAUTION,
    )  # fmt: skip


def _by_saving(choice: SwapChoice) -> tuple[bool, float, str, str]:
    known = choice.saving is not None
    return not known, -(choice.saving or 0.0), choice.ingredient, choice.substitute


@dataclass(frozen=True, kw_only=True)
class _Figures:
    """The prices and allergens from which the figures of a dish's swaps are worked out."""

    changing: DishToChange
    prices: Mapping[Goods, GridPrice]
    errors: ErrorTable  # how far prices are typically off
    names: Mapping[int, str]  # of ingredients
    allergens: DishAllergens

    def choice(self, swap: Swap, since: Since) -> SwapChoice:
        """Return one swap with its figures, or why it has none."""
        on, quantity = self.changing.on, self.changing.quantity[swap.ingredient_id]
        before = self.prices[swap.ingredient_id, None]
        taken = in_its_place(swap, self.changing.recipes, on)
        reason = self._gap(swap, before, taken)
        saving = error = None
        if reason is None:
            parts = self._parts(swap, quantity, before, taken or {})
            saving = math.fsum(parts.values())
            error = saving_error(parts, self.prices, self.errors)
        cost = self.changing.cost.cost_per_portion
        change = self.allergens.change([swap])
        bases = {before.basis, *(self.prices[goods].basis for goods in taken or {})}
        return SwapChoice(
            **swap.named(),
            cost_per_portion=None if saving is None else cost - saving,
            saving=saving,
            saving_pct=None if saving is None or cost <= 0 else 100 * saving / cost,
            allergens_added=change.added,
            allergens_removed=change.removed,
            cheaper_since=since.cheaper if saving is not None else None,
            dearer_since=since.dearer if saving is not None else None,
            since_first_seen=since.whole and saving is not None,
            note=swap.note,
            stated_ratio=swap.stated_ratio,
            ratio_state=swap.ratio_state,
            quantity=quantity,
            base=swap.base,
            substitute_quantity=quantity * swap.ratio,
            substitute_base=swap.substitute_base,
            typical_error=error,
            too_close=saving is not None and error is not None and abs(saving) < error,
            basis=weakest(bases),
            price=evidence(before, swap.base, self.errors),
            substitute_price=self._evidence(swap, taken),
            disturbance=swap.disturbance,
            reason=reason,
            row=swap.row,
        )

    def _gap(
        self, swap: Swap, before: GridPrice, taken: Mapping[Goods, float] | None
    ) -> str | None:
        if before.unit_price is None:
            return f"{swap.ingredient} has no price on this day."
        if taken is None:
            dish = swap.substitute.removeprefix(DISH)
            return f"{dish} cannot be measured: a batch weight or a fact is missing."
        missing = [self.names[each] for each, bought in taken
                   if self.prices[each, bought].unit_price is None]  # fmt: skip
        if not missing:
            return None
        of = " of that supplier, product or pack" if swap.purchase else ""
        return f"No price{of} on this day: {', '.join(missing)}."

    def _parts(
        self, swap: Swap, quantity: float, before: GridPrice, taken: Mapping[Goods, float]
    ) -> dict[Goods, float]:
        """Return what no longer has to be paid less what has to be instead, by price."""
        parts: dict[Goods, float] = {
            (swap.ingredient_id, None): quantity * (before.unit_price or 0.0)
        }
        for goods, amount in taken.items():
            cost = quantity * amount * (self.prices[goods].unit_price or 0.0)
            parts[goods] = parts.get(goods, 0.0) - cost  # one price is off one way
        return parts

    def _evidence(self, swap: Swap, taken: Mapping[Goods, float] | None) -> PriceEvidence | None:
        if not taken:
            return None
        if swap.substitute_dish_id is not None:
            per_gram = {goods: amount / swap.ratio for goods, amount in taken.items()}
            return evidence_of_dish(per_gram, self.prices, self.errors)
        (goods,) = taken
        return evidence(self.prices[goods], swap.substitute_base or "", self.errors)


def _read_figures(con: Connection, rule: Rule, changing: DishToChange) -> _Figures:
    touched: dict[Goods, None] = {}
    for swap in changing.swaps:
        touched[swap.ingredient_id, None] = None
        touched |= dict.fromkeys(in_its_place(swap, changing.recipes, changing.on) or {})
    prices: dict[Goods, GridPrice] = {}
    for purchase in dict.fromkeys(purchase for _, purchase in touched):
        asked = purchase.narrow(rule) if purchase else rule
        pairs = {(each, changing.on) for each, bought in touched if bought == purchase}
        priced = grid_prices(con, asked, pairs)
        prices |= {(each, purchase): price for (each, _), price in priced.items()}
    return _Figures(
        changing=changing,
        prices=prices,
        errors=typical_errors(con),
        names=dict(con.execute("SELECT ingredient_id, name FROM ingredient").fetchall()),
        allergens=dish_allergens(con, changing),
    )
