"""Says why a printed figure cannot be costed: which line lacks what, on which day."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from pricing.answer import Answer
from pricing.book.connect import Connection
from pricing.dishes.recipes import Recipes
from pricing.prices.evidence import Pair, grid_prices
from pricing.prices.reasons import sightings, why_missing, why_unmeasured
from pricing.prices.rule import Rule

# (ingredient, day) → quantity per portion; None = a fact is missing that would tell it
Quantities = Mapping[Pair, float | None]


@dataclass(frozen=True, kw_only=True)
class Gap(Answer):
    """What keeps a figure from being costed on a date."""

    ingredient: str | None  # None: the version itself
    on: date
    reason: str


@dataclass(frozen=True, kw_only=True)
class Gaps:
    """Why some ingredients have no price on some days."""

    reasons: dict[Pair, str]
    names: dict[int, tuple[str, str | None]]  # of ingredients, with the base unit

    def of_lines(self, taken: Quantities) -> tuple[Gap, ...]:
        """Return the gaps of what is taken, by day, then by ingredient; none when all is priced."""
        missing = [pair for pair, bought in taken.items() if bought is None or pair in self.reasons]
        return tuple(
            Gap(ingredient=self.names[pair[0]][0], on=pair[1], reason=self._reason(pair))
            for pair in sorted(missing, key=lambda pair: (pair[1], self.names[pair[0]][0]))
        )

    def _reason(self, pair: Pair) -> str:
        name, base = self.names[pair[0]]
        return self.reasons.get(pair) or why_unmeasured(name, f"An amount of {name}", base)

    @staticmethod
    def of_lost_version(figure: Mapping[str, Any], on: date) -> tuple[Gap, ...]:
        """Return the gaps of a figure of a version that the book does not hold any more."""
        reason = (
            f"The book has no version {figure['version']} of '{figure['dish']}' any more. Load "
            "it again, or undo the load of this figure."
        )
        days = (figure["costed_on"], on)
        return tuple(Gap(ingredient=None, on=day, reason=reason) for day in days)


def read_gaps(con: Connection, rule: Rule, recipes: Recipes, missing: Collection[Pair]) -> Gaps:
    """Return why each (ingredient, date) of `missing` has no price under the rule."""
    names = recipes.ingredients()
    if not missing:
        return Gaps(reasons={}, names=names)
    seen = sightings(con, {pair[0] for pair in missing}, rule)
    reasons = {
        pair: why_missing(names[pair[0]][0], price, rule, seen.get(pair[0]))
        for pair, price in grid_prices(con, rule, missing).items()
    }
    return Gaps(reasons=reasons, names=names)
