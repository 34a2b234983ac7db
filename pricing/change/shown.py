"""The figures of a change as a reader sees them: whole smallest units that add up everywhere."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from pricing.change.records import Comparison
from pricing.money import apportion, round_money

PORTIONS = "portions"
# the parts of a recipe effect that are one ingredient's own; portions are told of the whole dish
OWN_PARTS = ("amount", "trim", "added", "dropped", "swapped")


@dataclass(frozen=True, kw_only=True)
class ShownChange:
    """A change in rounded corners; the change and its two parts are their differences."""

    then: Decimal  # the old recipe then
    moved: Decimal  # the old recipe at today's prices
    now: Decimal  # the new recipe now

    @property
    def change(self) -> Decimal:
        return self.now - self.then

    @property
    def by_price(self) -> Decimal:
        return self.moved - self.then

    @property
    def by_recipe(self) -> Decimal:
        return self.now - self.moved


def shown(currency: str, then: float, moved: float, now: float) -> ShownChange:
    """Round what the old recipe cost then, what it costs now, and what the new one costs now.

    >>> change = shown("USD", 1.004, 1.208, 1.006)
    >>> str(change.change), str(change.by_price), str(change.by_recipe)
    ('0.01', '0.21', '-0.20')
    """
    return ShownChange(
        then=round_money(then, currency),
        moved=round_money(moved, currency),
        now=round_money(now, currency),
    )


@dataclass(frozen=True, kw_only=True)
class ShownComparison(ShownChange):
    """One dish then and now as shown: sentences, tables and charts take their figures from here.

    `prices` add up to `by_price`, `recipes` to `by_recipe`; so do the parts.
    """

    prices: dict[str, Decimal]  # ingredient → its price effect
    recipes: dict[str, Decimal]  # ingredient → its recipe effect
    recipe_parts: dict[tuple[str, str], Decimal]  # (ingredient, one of OWN_PARTS)
    portions: Decimal  # the recipe effect of other portions to the batch
    pack: Decimal  # of the price effect, other sizes of packs
    bridged: Decimal  # of the price effect, what series moved

    def recipe_part(self, part: str) -> Decimal:
        """Return one part of the recipe effect over all ingredients."""
        if part == PORTIONS:
            return self.portions
        return sum((v for (_, name), v in self.recipe_parts.items() if name == part), Decimal(0))


def shown_comparison(found: Comparison) -> ShownComparison:
    """Return the figures of one dish then and now as they are shown."""
    money, cost, parts = found.currency, found.corners, found.compared
    whole = shown(money, cost.then_recipe_then, cost.then_recipe_now, cost.now_recipe_now)
    names = [part.ingredient for part in parts]
    own = {
        (part.ingredient, name): float(part.recipe_parts[name])
        for part in parts
        for name in OWN_PARTS
        if part.recipe_parts and part.recipe_parts[name]
    }
    *leaves, portions = _apportioned(
        [*own.values(), found.recipe_parts.portions], money, whole.by_recipe
    )
    recipes = dict(
        zip(
            names,
            _apportioned(
                [part.recipe_parts.portions if part.recipe_parts else 0.0 for part in parts],
                money,
                portions,
            ),
            strict=True,
        )
    )
    recipe_parts = dict(zip(own, leaves, strict=True))
    for (name, _), amount in recipe_parts.items():
        recipes[name] += amount
    prices = _apportioned([part.price_effect or 0.0 for part in parts], money, whole.by_price)
    by_price = found.price_parts
    _, pack = _apportioned([by_price.sticker, by_price.pack], money, whole.by_price)
    _, bridged = _apportioned([by_price.seen, by_price.bridged], money, whole.by_price)
    return ShownComparison(
        then=whole.then,
        moved=whole.moved,
        now=whole.now,
        prices=dict(zip(names, prices, strict=True)),
        recipes=recipes,
        recipe_parts=recipe_parts,
        portions=portions,
        pack=pack,
        bridged=bridged,
    )


def _apportioned(amounts: Sequence[float], currency: str, whole: Decimal) -> list[Decimal]:
    return apportion(amounts, currency, whole) if amounts else []
