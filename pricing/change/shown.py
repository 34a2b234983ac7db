"""The figures of a change as a reader sees them: whole smallest units that add up everywhere."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from pricing.change.records import Comparison
from pricing.money import apportion, round_money


@dataclass(frozen=True, kw_only=True)
class ShownChange:
    """A change in rounded corners; the change and its parts are their differences."""

    currency: str
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

    def prices(self, effects: Iterable[float | None]) -> list[Decimal]:
        """Round price effects so that they add up to `by_price`; None counts as nothing."""
        return _apportioned(effects, self.currency, self.by_price)

    def recipes(self, effects: Iterable[float | None]) -> list[Decimal]:
        """Round recipe effects so that they add up to `by_recipe`."""
        return _apportioned(effects, self.currency, self.by_recipe)


def _apportioned(effects: Iterable[float | None], currency: str, whole: Decimal) -> list[Decimal]:
    amounts = [each or 0.0 for each in effects]
    return apportion(amounts, currency, whole) if amounts else []


def shown(currency: str, then: float, moved: float, now: float) -> ShownChange:
    """Round what the old recipe cost then, what it costs now, and what the new one costs now.

    >>> change = shown("USD", 1.004, 1.208, 1.006)
    >>> str(change.change), str(change.by_price), str(change.by_recipe)
    ('0.01', '0.21', '-0.20')
    """
    return ShownChange(
        currency=currency,
        then=round_money(then, currency),
        moved=round_money(moved, currency),
        now=round_money(now, currency),
    )


def shown_comparison(found: Comparison) -> ShownChange:
    """Return the figures of one dish then and now as they are shown."""
    cost = found.corners
    return shown(found.currency, cost.then_recipe_then, cost.then_recipe_now, cost.now_recipe_now)
