"""One swap as the choice of the fewest sees it, and a set of them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Option:
    """One swap that could be made. Its place is its position in the sequence of options."""

    ingredient: str  # at most one option of an ingredient is chosen
    saving: float  # currency per portion; may be negative
    mass_change_g: float  # |change of mass of the recipe| per portion; 0 or more
    disturbance: float = 1.0  # what this change costs the user, above 0; 1 each = fewest swaps
    clashes: frozenset[int] = frozenset()  # places not to be chosen with it; either may say so
    needs: frozenset[int] = frozenset()  # places of which one at least must be chosen too


@dataclass(frozen=True, kw_only=True)
class Choice:
    """Swaps made together."""

    chosen: tuple[int, ...]  # places, ascending
    saving: float  # currency per portion: the savings of the chosen, added with math.fsum
    reached: bool  # the saving asked for is reached; true where none was asked for
    proven: bool = True  # no other set is better; false: the search was stopped before it had seen


def saving_of(options: Sequence[Option], chosen: Iterable[int]) -> float:
    """Return what the chosen save together."""
    return math.fsum(options[place].saving for place in chosen)


def go_together(options: Sequence[Option], chosen: tuple[int, ...]) -> bool:
    """Tell whether no two of the chosen clash, in either's word, and each has what it needs."""
    return all(
        options[place].clashes.isdisjoint(chosen)
        and (not options[place].needs or not options[place].needs.isdisjoint(chosen))
        for place in chosen
    )


def check_options(options: Sequence[Option]) -> None:
    """Raise ValueError for a figure out of range or a place that no option has."""
    for place, each in enumerate(options):
        figures = each.saving, each.mass_change_g, each.disturbance
        if not all(map(math.isfinite, figures)) or each.mass_change_g < 0 or each.disturbance <= 0:
            raise ValueError(
                f"Found saving, change of mass and disturbance {figures} in option {place}; "
                "expected finite figures, a change of mass of 0 or more, a disturbance above 0."
            )
        named = each.clashes | each.needs
        if wrong := [p for p in named if p == place or not 0 <= p < len(options)]:
            raise ValueError(
                f"Found place {wrong[0]} named by option {place}; "
                f"expected that of another option, 0 to {len(options) - 1}."
            )
