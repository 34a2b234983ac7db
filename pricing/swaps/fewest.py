"""Chooses among the swaps of a dish: the fewest, or least disturbing, that save an amount."""

from __future__ import annotations

import math
from collections.abc import Sequence

from pricing.swaps.one_by_one import one_by_one
from pricing.swaps.option import Choice, Option, check_options, go_together, saving_of
from pricing.swaps.solver import Places, Search


def fewest_swaps(options: Sequence[Option], need: float) -> Choice:
    """Return the least disturbing swaps that save `need` or more, currency per portion.

    A set reaches `need` when the floats of its savings, added with math.fsum, do: no tolerance.
    Of those, the set with the least sum of disturbances; of equal ones the least sum of changes of
    mass, then the largest saving, then the first places. With nothing to save, no swap. When no
    set reaches `need`: the largest saving there is, ties as above, and `reached` is false.

    Two such sums are equal within a hundred-thousandth of the largest single figure: 0.1 + 0.2
    and 0.3, or grams that differ by 0.005 where the largest change is 500. Where very many sets
    come that near to each other the search ends after MOST_NODES steps (pricing/swaps/solver.py)
    before it has seen all: `proven` is then false. The set is still no worse than taking the best
    swap again and again, and the same question always has the same answer.
    Raises ValueError for a figure out of range or a place that no option has.

    >>> leeks = Option(ingredient="leeks", saving=0.25, mass_change_g=40.0)
    >>> cream = Option(ingredient="cream", saving=0.5, mass_change_g=0.0)
    >>> fewest_swaps([leeks, cream], 0.375).chosen, fewest_swaps([leeks, cream], 0.625).chosen
    ((1,), (0, 1))
    """
    check_options(options)
    if math.isnan(need):
        raise ValueError("Found no number as the saving to reach; expected an amount.")
    if need <= 0:
        return Choice(chosen=(), saving=0.0, reached=True)
    found, proven = None, True
    if saving_of(options, _largest_first(options)) >= need:  # else not even without clashes
        search = Search(options)
        found = _searched(options, search, ("disturbance", "mass", "saving"), need=need)
        proven = search.proven
    if found is None:
        search = Search(options)
        found = _searched(options, search, ("saving", "disturbance", "mass")) or ()
        proven = proven and search.proven
    saving = saving_of(options, found)
    return Choice(chosen=found, saving=saving, reached=saving >= need, proven=proven)


def frontier(options: Sequence[Option]) -> tuple[Choice, ...]:
    """Return the largest saving of at most 0, 1, 2, … swaps, until more save nothing further.

    Of equal savings the fewest swaps, then the least sum of changes of mass, then the first places.
    Disturbances do not count. `proven` as in `fewest_swaps`; more swaps never save less.
    Raises ValueError as `fewest_swaps`.
    """
    check_options(options)
    order = _largest_first(options)

    def largest(most: int, search: Search, with_fewer: Places = ()) -> Choice:
        found = tuple(sorted(order[:most]))  # the best of all, where nothing clashes
        if not go_together(options, found):
            wishes = ("saving", "swaps", "mass")
            found = _searched(options, search, wishes, most=most, known=with_fewer) or ()
        saving = saving_of(options, found)
        return Choice(chosen=found, saving=saving, reached=True, proven=search.proven)

    last, search = largest(len(options), Search(options)), Search(options)
    points: list[Choice] = []
    for most in range(len(last.chosen)):
        points.append(largest(most, search, points[-1].chosen if points else ()))
    if points and points[-1].saving > last.saving:  # where the search for the last was stopped
        return tuple(points)
    return (*points, last)


def _searched(
    options: Sequence[Option],
    search: Search,
    wishes: Sequence[str],
    *,
    need: float = -math.inf,
    most: int | None = None,
    known: Places = (),
) -> Places | None:
    """Return the best set by the wishes in their order; None when no set saves the need.

    Where the search was stopped it is no worse than `known`, or than the swaps taken one by one.
    """
    found = search.best(wishes, need=need, most=most)
    if search.proven:
        return found
    simple = one_by_one(options, need if math.isfinite(need) else math.inf, most)
    sets = [each for each in (found, known, simple) if each is not None]
    enough = [each for each in sets if saving_of(options, each) >= need]
    return min(enough, key=lambda each: search.sums_of(wishes, each), default=None)


def _largest_first(options: Sequence[Option]) -> list[int]:
    """Return the best option of each ingredient that saves anything, the largest saving first."""
    places = [place for place, each in enumerate(options) if each.saving > 0]
    places.sort(key=lambda p: (-options[p].saving, options[p].mass_change_g, p))
    found: dict[str, int] = {}
    for place in places:
        found.setdefault(options[place].ingredient, place)
    return list(found.values())
