"""Splits a recipe effect: more or less of it, trim, portions, added, dropped, swapped."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from statistics import median

from pricing.answer import Answer
from pricing.dishes.recipes import Recipes, Version


@dataclass(frozen=True, kw_only=True)
class RecipeParts(Answer):
    """One recipe effect, split; the parts add up to it. Money per portion."""

    amount: float  # more or less of it, for the size of the batch
    trim: float  # a changed yield, or edible amounts instead of bought ones
    portions: float  # the batch is divided otherwise
    added: float
    dropped: float
    swapped: float  # dropped or added, and paired with its substitute by a named swap
    swapped_with: str | None


NO_RECIPE_PARTS = RecipeParts(
    amount=0.0, trim=0.0, portions=0.0, added=0.0, dropped=0.0, swapped=0.0, swapped_with=None
)


@dataclass(frozen=True, kw_only=True)
class BatchNeed:
    """What a batch takes of one ingredient, in its base unit."""

    needed: float  # edible amounts as such
    bought: float  # as purchased

    @property
    def trim(self) -> float:
        return self.bought / self.needed


def batch_needs(recipes: Recipes, version: Version, on: date) -> dict[int, BatchNeed]:
    """Return ingredient id → what a batch of `version` takes, where every line of it is known.

    Sub-recipes are in the version in force on `on`, the recipe day.
    """
    totals: dict[int, BatchNeed | None] = {}
    for line, times in recipes.unfold(version, on):
        assert line.ingredient_id is not None
        so_far = totals.get(line.ingredient_id, BatchNeed(needed=0.0, bought=0.0))
        if so_far is None or line.as_purchased is None or line.trim is None:
            totals[line.ingredient_id] = None
            continue
        bought = line.as_purchased * times
        totals[line.ingredient_id] = BatchNeed(
            needed=so_far.needed + bought / line.trim, bought=so_far.bought + bought
        )
    return {each: need for each, need in totals.items() if need is not None}


def batch_growth(
    then: Mapping[int, BatchNeed], now: Mapping[int, BatchNeed], portions: tuple[float, float]
) -> float:
    """Return by what factor the batch grew: the median over the ingredients kept, 1 without any.

    A recipe written for twice as many, with twice of everything, has not changed: so amounts are
    measured against the batch, and portions against its growth. For as many portions as before a
    batch has not grown; then more of everything is more of everything.
    """
    if portions[0] == portions[1]:
        return 1.0
    ratios = sorted(now[each].needed / then[each].needed for each in then.keys() & now.keys())
    if not ratios:
        return 1.0
    # the two middle ones by their geometric mean, so that there and back agree
    middle = ratios[(len(ratios) - 1) // 2], ratios[len(ratios) // 2]
    return median(ratios) if len(ratios) % 2 else float((middle[0] * middle[1]) ** 0.5)


def kept_parts(
    price: float,
    then: tuple[BatchNeed, float],
    now: tuple[BatchNeed, float],
    growth: float,
) -> RecipeParts:
    """Split price × (a1 − a0) of an ingredient in both recipes; each side: (need, portions).

    `price` is that of now. a = needed × trim ÷ portions. Each factor's change is weighted by the
    others at both ends, all orders of change counting alike (Shapley), so the parts add up.
    """
    (need0, portions0), (need1, portions1) = then, now
    x0, y0, z0 = need0.needed, need0.trim, 1 / portions0
    x1, y1, z1 = need1.needed / growth, need1.trim, growth / portions1
    return replace(
        NO_RECIPE_PARTS,
        amount=price * (x1 - x0) * _others(y0, y1, z0, z1),
        trim=price * (y1 - y0) * _others(x0, x1, z0, z1),
        portions=price * (z1 - z0) * _others(x0, x1, y0, y1),
    )


def _others(a0: float, a1: float, b0: float, b1: float) -> float:
    """Return the mean product of the two other factors over the six orders of change."""
    return (2 * (a0 * b0 + a1 * b1) + a0 * b1 + a1 * b0) / 6


def pair_swaps(
    dropped: Mapping[int, float],
    added: Mapping[int, float],
    ratios: Mapping[tuple[int, int], float],
) -> dict[int, int]:
    """Return each dropped ingredient with the added one that a named swap pairs it with, both ways.

    `dropped`, `added`: ingredient id → quantity per portion. `ratios`: (ingredient, substitute) →
    how much of the substitute per unit. A swap counts in either direction. Of several, the pair
    whose quantities come nearest to the ratio is taken first; each ingredient is paired once.
    """
    found: list[tuple[float, int, int]] = []
    for (one, other), ratio in ratios.items():
        for out, new, expected in ((one, other, ratio), (other, one, 1 / ratio)):
            if out in dropped and new in added:
                off = added[new] / (dropped[out] * expected)
                found.append((max(off, 1 / off), out, new))
    pairs: dict[int, int] = {}
    for _, out, new in sorted(found):
        if out not in pairs and new not in pairs:
            pairs[out], pairs[new] = new, out
    return pairs


def as_swap(parts: RecipeParts, partner: str) -> RecipeParts:
    """Return the parts of an added or dropped ingredient as one half of a swap."""
    return replace(NO_RECIPE_PARTS, swapped=parts.added + parts.dropped, swapped_with=partner)


def total_recipe_parts(parts: Iterable[RecipeParts]) -> RecipeParts:
    """Return the sums over ingredients; a sum is swapped with nothing."""
    listed = list(parts)
    names = ("amount", "trim", "portions", "added", "dropped", "swapped")
    sums = {name: sum(each[name] for each in listed) for name in names}
    return RecipeParts(swapped_with=None, **sums)
