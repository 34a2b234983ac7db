"""A good set of swaps, found one by one: what a search that was stopped is held against."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from pricing.swaps.option import Option, go_together, saving_of


def one_by_one(
    options: Sequence[Option], need: float = math.inf, most: int | None = None
) -> tuple[int, ...]:
    """Return a set that saves `need`, or all that can be had so, of at most `most` swaps.

    At each step it takes what saves most per disturbance, with a helper where one is needed; at the
    end it leaves out what is not needed after all. Places, ascending.

    >>> leeks = Option(ingredient="leeks", saving=0.25, mass_change_g=40.0)
    >>> cream = Option(ingredient="cream", saving=0.5, mass_change_g=0.0)
    >>> one_by_one([leeks, cream], 0.375), one_by_one([leeks, cream])
    ((1,), (0, 1))
    """
    chosen: tuple[int, ...] = ()
    saving = 0.0
    while saving < need:
        steps = [
            step
            for step in _steps(options, chosen)
            if most is None or len(chosen) + len(step) <= most
        ]
        if not steps:
            break
        step = min(steps, key=lambda step: (-_worth(options, step), step))
        chosen = tuple(sorted((*chosen, *step)))
        saving = saving_of(options, chosen)
    for place in sorted(chosen, key=lambda place: (-options[place].disturbance, place)):
        less = tuple(each for each in chosen if each != place)
        if saving_of(options, less) >= need and go_together(options, less):
            chosen = less
    return chosen


def _steps(options: Sequence[Option], chosen: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    """Yield every option, or option with a helper, that saves something on top of the chosen."""
    swapped = {options[place].ingredient for place in chosen}
    clashing = frozenset[int]().union(*(options[place].clashes for place in chosen))
    open_to = {
        place
        for place, each in enumerate(options)
        if place not in clashing
        and each.ingredient not in swapped
        and each.clashes.isdisjoint(chosen)
    }
    for place in sorted(place for place in open_to if options[place].saving > 0):
        each = options[place]
        helped = not each.needs or not each.needs.isdisjoint(chosen)
        for step in [(place,)] if helped else [(place, p) for p in sorted(each.needs & open_to)]:
            apart = len({options[p].ingredient for p in step}) == len(step)
            if apart and saving_of(options, step) > 0 and go_together(options, (*chosen, *step)):
                yield step


def _worth(options: Sequence[Option], step: tuple[int, ...]) -> float:
    return saving_of(options, step) / math.fsum(options[place].disturbance for place in step)
