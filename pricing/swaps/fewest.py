"""Chooses among the swaps of a dish: the fewest, or least disturbing, that save an amount."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from pricing.swaps.option import Choice, Option, _check
from pricing.swaps.solver import Search


def fewest_swaps(options: Sequence[Option], need: float) -> Choice:
    """Return the least disturbing swaps that save `need` or more, currency per portion.

    A set reaches `need` when the floats of its savings, added with math.fsum, do: no tolerance.
    Of those, the set with the least sum of disturbances; of equal ones the least sum of changes of
    mass, then the largest saving, then the first places. With nothing to save, no swap. When no
    set reaches `need`: the largest saving there is, ties as above, and `reached` is false.

    Two such sums are equal within a hundred-thousandth of the largest single figure: 0.1 + 0.2
    and 0.3, or grams that differ by 0.005 where the largest change is 500. Where very many sets
    come that near to each other the search can end (after two seconds) before it has seen all:
    `proven` is then false; the set returned still saves what is told.
    Raises ValueError for a figure out of range or a place that no option has.

    >>> leeks = Option(ingredient="leeks", substitute="onions", saving=0.25, mass_change_g=40.0)
    >>> cream = Option(ingredient="cream", substitute="milk", saving=0.5, mass_change_g=0.0)
    >>> fewest_swaps([leeks, cream], 0.375).chosen, fewest_swaps([leeks, cream], 0.625).chosen
    ((1,), (0, 1))
    """
    _check(options)
    if math.isnan(need):
        raise ValueError("Found no number as the saving to reach; expected an amount.")
    if need <= 0:
        return Choice(chosen=(), saving=0.0, reached=True)
    found, proven = None, True
    if _saving(options, _largest_first(options)) >= need:  # else not even without clashes
        search = Search(options)
        found, proven = search.best(("disturbance", "mass", "saving"), need=need), search.proven
    if found is None:
        search = Search(options)
        found = search.best(("saving", "disturbance", "mass")) or ()
        proven = proven and search.proven
    saving = _saving(options, found)
    return Choice(chosen=found, saving=saving, reached=saving >= need, proven=proven)


def frontier(options: Sequence[Option]) -> tuple[Choice, ...]:
    """Return the largest saving of at most 0, 1, 2, … swaps, until more save nothing further.

    Of equal savings the fewest swaps, then the least sum of changes of mass, then the first places.
    Disturbances do not count. Raises ValueError as `fewest_swaps`.
    """
    _check(options)
    order = _largest_first(options)

    def largest(most: int, search: Search, at_least: tuple[int, ...] = ()) -> Choice:
        found = tuple(sorted(order[:most]))  # the best of all, where nothing clashes
        if not _go_together(options, found):
            found = search.best(("saving", "swaps", "mass"), most=most) or at_least
        saving = _saving(options, found)
        return Choice(chosen=found, saving=saving, reached=True, proven=search.proven)

    last, search = largest(len(options), Search(options)), Search(options)
    points: list[Choice] = []
    for most in range(len(last.chosen)):
        points.append(largest(most, search, points[-1].chosen if points else ()))
    return (*points, last)


def _saving(options: Sequence[Option], chosen: Iterable[int]) -> float:
    return math.fsum(options[place].saving for place in chosen)


def _largest_first(options: Sequence[Option]) -> list[int]:
    """Return the best option of each ingredient that saves anything, the largest saving first."""
    places = [place for place, each in enumerate(options) if each.saving > 0]
    places.sort(key=lambda p: (-options[p].saving, options[p].mass_change_g, p))
    found: dict[str, int] = {}
    for place in places:
        found.setdefault(options[place].ingredient, place)
    return list(found.values())


def _go_together(options: Sequence[Option], chosen: tuple[int, ...]) -> bool:
    return all(
        options[place].clashes.isdisjoint(chosen)
        and (not options[place].needs or not options[place].needs.isdisjoint(chosen))
        for place in chosen
    )
