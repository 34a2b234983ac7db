"""Brings a dish under a target: which swaps, how near they come, and what stands in the way."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from pricing.answer import Answer
from pricing.errors import InputRefused
from pricing.money import show_money
from pricing.names import name_key
from pricing.swaps.allergens import DishAllergens
from pricing.swaps.dish_to_change import DishToChange
from pricing.swaps.fewest import fewest_swaps, frontier
from pricing.swaps.in_force import Swap
from pricing.swaps.option import Choice, Option
from pricing.swaps.swap import SwapName

ROUNDING = 1e-9  # currency per portion: a cost is snapped to it before it is compared (design §2)


@dataclass(frozen=True, kw_only=True)
class ChosenSwap(SwapName, Answer):
    """A swap that was chosen."""

    saving: float  # currency per portion


@dataclass(frozen=True, kw_only=True)
class FrontierPoint(Answer):
    """The lowest cost per portion with at most so many changes."""

    changes: int
    cost_per_portion: float
    chosen: tuple[ChosenSwap, ...]


@dataclass(frozen=True, kw_only=True)
class InTheWay(Answer):
    """What keeps the cost up after the best that swaps can do, the dearest first."""

    ingredient: str
    cost_per_portion: float
    why: str


@dataclass(frozen=True, kw_only=True)
class SwapTarget(Answer):
    """What it takes to reach a cost per portion (contract §3). Money per portion."""

    amount: float
    reached: bool
    chosen: tuple[ChosenSwap, ...]  # the lowest cost there is, when it cannot be reached
    cost_per_portion: float  # with them
    short_by: float  # how much is still missing; 0 when it is reached
    allergens_added: tuple[str, ...] | str  # by all of them together, or "unknown"
    allergens_removed: tuple[str, ...] | str
    in_the_way: tuple[InTheWay, ...]  # empty when it is reached
    frontier: tuple[FrontierPoint, ...]
    proven: bool  # false: the search was stopped; a better choice, or frontier, may exist


@dataclass(frozen=True, kw_only=True)
class TargetAsked:
    """What is asked for."""

    amount: float  # currency per portion
    keep: Collection[str] = ()  # ingredients that stay
    least_disturbing: bool = False  # else the fewest swaps


def reach_target(
    changing: DishToChange,
    savings: Sequence[float | None],
    allergens: DishAllergens,
    asked: TargetAsked,
) -> SwapTarget:
    """Choose among the swaps of a dish; `savings` of `changing.swaps`, one for one, per portion.

    A swap without a saving is never chosen, nor one of an ingredient that is to stay. A dish of
    which a line has no price is "at least" its cost, so no target counts as reached.
    Raises InputRefused (a target of 0 or less).
    """
    cost, amount = changing.cost.cost_per_portion, asked.amount
    if not amount > 0:
        raise InputRefused(
            f"Found a target of {show_money(amount, changing.cost.currency)}; expected an amount "
            "over 0 per portion. Name what a portion may cost."
        )
    stay = {name_key(each) for each in asked.keep}
    choices = _choices(changing, savings, stay)
    options = _options(changing, choices, asked.least_disturbing)
    best, points = fewest_swaps(options, cost - amount - ROUNDING), frontier(options)
    chosen = [choices[at] for at in best.chosen]
    after = cost - best.saving
    reached = best.reached and changing.cost.complete
    change = allergens.change(swap for swap, _ in chosen)
    return SwapTarget(
        amount=amount,
        reached=reached,
        chosen=_chosen_swaps(chosen),
        cost_per_portion=after,
        short_by=0.0 if best.reached else after - amount,
        allergens_added=change.added,
        allergens_removed=change.removed,
        in_the_way=() if reached else _in_the_way(changing, choices, chosen, stay),
        frontier=tuple(_frontier_point(cost, choices, point) for point in points),
        proven=best.proven and all(point.proven for point in points),
    )


Choices = Sequence[tuple[Swap, float]]  # swaps that can be chosen, each with its saving


def _choices(
    changing: DishToChange, savings: Sequence[float | None], stay: Collection[str]
) -> list[tuple[Swap, float]]:
    return _makeable(
        [
            (swap, saving)
            for swap, saving in zip(changing.swaps, savings, strict=True)
            if saving is not None and name_key(swap.ingredient) not in stay
        ]
    )


def _makeable(swaps: list[tuple[Swap, float]]) -> list[tuple[Swap, float]]:
    """Leave out swaps that need another one which is not among them."""
    put = {name_key(swap.substitute) for swap, _ in swaps}
    kept = [each for each in swaps if not each[0].only_with or each[0].only_with & put]
    return swaps if len(kept) == len(swaps) else _makeable(kept)


def _chosen_swaps(chosen: Choices) -> tuple[ChosenSwap, ...]:
    return tuple(ChosenSwap(**swap.named(), saving=saving) for swap, saving in chosen)


def _frontier_point(cost: float, choices: Choices, point: Choice) -> FrontierPoint:
    return FrontierPoint(
        changes=len(point.chosen),
        cost_per_portion=cost - point.saving,
        chosen=_chosen_swaps([choices[at] for at in point.chosen]),
    )


def _options(changing: DishToChange, choices: Choices, least_disturbing: bool) -> list[Option]:
    """Return the swaps as options; clashes and needs go by the substitutes' names."""
    put = [name_key(swap.substitute) for swap, _ in choices]
    places = range(len(choices))
    options = []
    for at, (swap, saving) in enumerate(choices):
        clashes = {other for other in places if other != at and put[other] in swap.not_with}
        needs = {other for other in places if other != at and put[other] in swap.only_with}
        options.append(
            Option(
                ingredient=swap.ingredient,
                saving=saving,
                mass_change_g=swap.mass_change_g(changing.quantity[swap.ingredient_id]),
                disturbance=(swap.disturbance or 1.0) if least_disturbing else 1.0,
                clashes=frozenset(clashes),
                needs=frozenset(needs),
            )
        )
    return options


def _in_the_way(
    changing: DishToChange,
    choices: Choices,
    chosen: Choices,
    stay: Collection[str],
) -> tuple[InTheWay, ...]:
    swapped = {swap.ingredient: (swap, saving) for swap, saving in chosen}
    with_choice = {swap.ingredient for swap, _ in choices}
    costs: dict[str, float] = {}
    gaps: dict[str, None] = {}
    for line in changing.cost.ingredient_lines():
        if line.cost is None:
            gaps[line.ingredient] = None
        else:
            part = line.cost / changing.cost.portions
            costs[line.ingredient] = costs.get(line.ingredient, 0.0) + part
    found = []
    for ingredient, cost in costs.items():
        if ingredient in swapped:
            swap, saving = swapped[ingredient]
            cost, why = cost - saving, f"with {swap.in_words()}"
        elif name_key(ingredient) in stay:
            why = "it stays, as you asked"
        elif ingredient in with_choice:
            why = "its swaps save nothing, or clash with a better one"
        else:
            why = "no swap with a price"
        found.append(InTheWay(ingredient=ingredient, cost_per_portion=cost, why=why))
    found.sort(key=lambda each: (-each.cost_per_portion, each.ingredient))
    unpriced = [InTheWay(ingredient=g, cost_per_portion=0.0, why="no price") for g in gaps]
    return (*unpriced, *found)
