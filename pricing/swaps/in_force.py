"""The swaps of a book: what may take an ingredient's place, how much of it, and where."""

from __future__ import annotations

from collections.abc import Set
from dataclasses import dataclass, replace
from typing import Any

from pricing.book.connect import Connection
from pricing.book.read import rows
from pricing.measures.quantities import Quantity
from pricing.names import name_key
from pricing.prices.rule import Rule
from pricing.swaps.swap import LEAVE_OUT, SwapName

GROUP = "group:"  # before the name of a group of dishes


@dataclass(frozen=True, kw_only=True)
class Purchase:
    """Which prices of an ingredient count: those of one supplier, product or pack."""

    supplier: str | None = None
    product: str | None = None
    pack: Quantity | None = None

    def narrow(self, rule: Rule) -> Rule:
        """Return the rule for these prices alone."""
        return replace(rule, supplier=self.supplier, product=self.product, pack=self.pack)


@dataclass(frozen=True, kw_only=True)
class Swap(SwapName):
    """One swap in force. Ratios: base units of the substitute (g of a dish) per base unit."""

    row: int  # of the book
    ingredient_id: int
    substitute_id: int | None  # None: a dish, or nothing
    substitute_dish_id: int | None
    stated_ratio: float  # as entered, in `ratio_state`
    ratio_state: str  # as_purchased or edible
    note: str | None
    purchase: Purchase | None  # None: the substitute at its default price
    works_in: frozenset[str]  # keys of dishes and of group:NAME; empty = anywhere
    not_in: frozenset[str]
    not_with: frozenset[str]  # keys of substitutes
    only_with: frozenset[str]
    disturbance: float | None  # what this change costs the cook, as stated
    base: str  # of the ingredient
    substitute_base: str | None
    grams: float | None  # per base unit of the ingredient
    substitute_grams: float | None

    @property
    def same_ingredient(self) -> bool:
        """Whether the ingredient stays: less of it, or another purchase."""
        return self.substitute_id == self.ingredient_id

    def works(self, here: Set[str]) -> bool:
        """Tell whether the swap is stated to work in a dish; `here`: its `dish_keys`."""
        return here.isdisjoint(self.not_in) and (
            not self.works_in or not here.isdisjoint(self.works_in)
        )

    def mass_change_g(self, quantity: float) -> float:
        """Return by how many g the recipe changes when `quantity` base units are swapped.

        Where the weight of a unit is not known, a ml counts as 1 g and a piece as nothing.
        """
        unknown = {"ml": 1.0}
        before = self.grams if self.grams is not None else unknown.get(self.base, 0.0)
        after = self.substitute_grams
        if after is None:
            after = unknown.get(self.substitute_base or "", 0.0)
        return abs(quantity * (self.ratio * after - before))


def dish_keys(dish: str, group: str | None) -> frozenset[str]:
    """Return the names under which `works_in` and `not_in` may mean a dish, as keys."""
    return frozenset({name_key(dish)} | ({name_key(GROUP + group)} if group else set()))


def swaps_in(con: Connection) -> list[Swap]:
    """Return the swaps in force, by name."""
    return [_swap(row) for row in rows(con, "swaps/swaps_held")]


def _swap(row: dict[str, Any]) -> Swap:
    amount = row.pop("pack_amount")
    dimension, measure_key = row.pop("pack_dimension"), row.pop("pack_measure_key")
    pack = None
    if amount is not None:
        pack = Quantity(amount=amount, dimension=dimension, measure_key=measure_key)
    bought = any(row[each] is not None for each in ("supplier", "product", "pack"))
    for each in ("works_in", "not_in", "not_with", "only_with"):
        row[each] = frozenset(map(name_key, row[each]))
    return Swap(
        **{
            **row,
            "substitute": row["substitute"] or LEAVE_OUT,
            "purchase": Purchase(supplier=row["supplier"], product=row["product"], pack=pack)
            if bought
            else None,
        }
    )
