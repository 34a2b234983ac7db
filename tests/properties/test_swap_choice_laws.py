"""The choice of swaps equals trying every set, on 5,000 random small dishes."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pricing.swaps import solver
from pricing.swaps.fewest import fewest_swaps, frontier
from pricing.swaps.one_by_one import one_by_one
from pricing.swaps.option import Choice, Option
from tests.loops import rounds

SEEDS = st.integers(0, 10**9)
# Figures are whole thousandths: the solver gets floats, the check below adds whole numbers, so that
# a tie is a tie (0.1 + 0.2 and 0.3). Only whether the need is reached is asked of the floats' sum.
THOUSAND = 1000


@dataclass(frozen=True)
class Figures:
    """An option in whole thousandths."""

    ingredient: str
    saving: int
    mass: int
    disturbance: int
    clashes: frozenset[int]
    needs: frozenset[int]


@dataclass(frozen=True)
class Case:
    figures: list[Figures]
    need: float

    def options(self) -> list[Option]:
        return [
            Option(
                ingredient=each.ingredient,
                saving=each.saving / THOUSAND,
                mass_change_g=each.mass / THOUSAND,
                disturbance=each.disturbance / THOUSAND,
                clashes=each.clashes,
                needs=each.needs,
            )
            for place, each in enumerate(self.figures)
        ]


def random_case(chance: Random) -> Case:
    """Return a dish of up to five ingredients with up to three swaps each, often with ties."""
    coarse = chance.random() < 0.6
    groups = [f"ingredient {n}" for n in range(chance.randint(1, 5)) for _ in range(3)]
    groups = sorted(chance.sample(groups, chance.randint(1, min(9, len(groups)))))
    if chance.random() < 0.3:
        chance.shuffle(groups)
    costs = chance.choice([[1000], [1000], [500, 1000, 2000], [100, 200, 300], [370, 1410, 990]])
    places = range(len(groups))
    clashes: list[set[int]] = [set() for _ in places]
    needs: list[set[int]] = [set() for _ in places]
    if len(groups) > 1:
        for _ in range(chance.choice([0, 0, 1, 2, 4])):  # stated on one side, which is enough
            one, other = chance.sample(places, 2)
            clashes[one].add(other)
        for _ in range(chance.choice([0, 0, 0, 1, 2, 3])):
            one, other = chance.sample(places, 2)
            needs[one].add(other)
    figures = [
        Figures(
            group,
            chance.randint(-2, 5) * 100 if coarse else chance.randint(-200, 900),
            chance.randint(0, 3) * 10_000 if coarse else chance.randint(0, 90) * 1_000,
            chance.choice(costs),
            frozenset(clashes[place]),
            frozenset(needs[place]),
        )
        for place, group in enumerate(groups)
    ]
    some = chance.sample(figures, chance.randint(1, len(figures)))
    reached = math.fsum(each.saving / THOUSAND for each in some)
    need = chance.choice(
        [
            reached,  # met to the last bit, or missed by it
            math.nextafter(reached, math.inf),
            sum(each.saving for each in some) / THOUSAND,
            chance.uniform(-0.1, 2.0),
            chance.randint(0, 12) / 10,
        ]
    )
    return Case(figures, need)


def sets(figures: list[Figures]) -> Iterator[tuple[int, ...]]:
    """Yield every set that may be chosen, by trying them all."""
    for count in range(len(figures) + 1):
        for chosen in itertools.combinations(range(len(figures)), count):
            if len({figures[p].ingredient for p in chosen}) < count:
                continue
            if any(other in figures[p].clashes for p in chosen for other in chosen):
                continue
            if all(
                not figures[p].needs or any(other in figures[p].needs for other in chosen)
                for p in chosen
            ):
                yield chosen


def total(figures: list[Figures], chosen: tuple[int, ...], name: str) -> int:
    return sum(getattr(figures[p], name) for p in chosen)


def in_floats(case: Case, chosen: tuple[int, ...]) -> float:
    return math.fsum(case.figures[p].saving / THOUSAND for p in chosen)


def tried(case: Case) -> tuple[tuple[int, ...], bool]:
    """Return the set that the wishes in their order pick out of all, and whether it reaches."""
    all_sets, figures = list(sets(case.figures)), case.figures
    if case.need <= 0:
        return (), True
    reaching = [each for each in all_sets if in_floats(case, each) >= case.need]
    most = max(total(figures, each, "saving") for each in all_sets)
    candidates = reaching or [each for each in all_sets if total(figures, each, "saving") == most]
    return min(
        candidates,
        key=lambda each: (
            total(figures, each, "disturbance"),
            total(figures, each, "mass"),
            -total(figures, each, "saving"),
            each,
        ),
    ), bool(reaching)


def test_five_thousand_small_dishes_choose_as_trying_every_set() -> None:
    chance = Random(20261124)
    seen = dict.fromkeys(("reached", "unreached", "clashes", "needs", "several", "tied"), 0)
    for number in range(rounds(5_000)):
        case = random_case(chance)
        expected, reached = tried(case)
        found = fewest_swaps(case.options(), case.need)
        assert (found.chosen, found.reached) == (expected, reached), (number, case)
        assert found.saving == in_floats(case, expected)
        seen["reached"] += reached
        seen["unreached"] += not reached
        seen["clashes"] += any(each.clashes for each in case.figures)
        seen["needs"] += any(each.needs for each in case.figures)
        seen["several"] += len(expected) > 1
        seen["tied"] += len({(f.saving, f.mass, f.disturbance) for f in case.figures}) < len(
            case.figures
        )
    assert min(seen.values()) > rounds(400), seen  # every kind of dish was among them


def test_the_frontier_is_the_largest_saving_of_every_number_of_swaps() -> None:
    chance = Random(20261125)
    bent = 0
    for number in range(rounds(1_000)):
        case = random_case(chance)
        figures, all_sets = case.figures, list(sets(case.figures))

        def first(most: int, figures=figures, all_sets=all_sets) -> tuple[int, ...]:
            return min(
                (each for each in all_sets if len(each) <= most),
                key=lambda each: (
                    -total(figures, each, "saving"),
                    len(each),
                    total(figures, each, "mass"),
                    each,
                ),
            )

        expected = [first(most) for most in range(len(first(len(figures))) + 1)]
        found = frontier(case.options())
        assert [each.chosen for each in found] == expected, (number, case)
        assert [each.saving for each in found] == [in_floats(case, each) for each in expected]
        bent += any(len(each) < most for most, each in enumerate(expected))
    # one more swap alone saved nothing, two more did: in more than one dish of two hundred
    assert bent > rounds(1_000) // 200


@settings(max_examples=rounds(60), deadline=None)
@given(SEEDS)
def test_the_order_of_the_options_changes_the_places_alone(seed: int) -> None:
    chance = Random(seed)
    case = random_case(chance)
    turned = list(range(len(case.figures)))
    chance.shuffle(turned)
    new = {old: at for at, old in enumerate(turned)}
    moved = [
        Figures(
            each.ingredient,
            each.saving,
            each.mass,
            each.disturbance,
            frozenset(new[p] for p in each.clashes),
            frozenset(new[p] for p in each.needs),
        )
        for each in (case.figures[old] for old in turned)
    ]
    one, other = (fewest_swaps(c.options(), c.need) for c in (case, Case(moved, case.need)))
    assert one.reached == other.reached
    assert measured(case.figures, one) == measured(moved, other)


def measured(figures: list[Figures], choice: Choice) -> tuple[int, ...]:
    return tuple(total(figures, choice.chosen, n) for n in ("disturbance", "mass", "saving"))


@settings(max_examples=rounds(60), deadline=None)
@given(SEEDS, st.floats(0.01, 3.0))
def test_what_the_frontier_saves_with_so_many_swaps_needs_no_more(seed: int, need: float) -> None:
    # with a disturbance of 1 each the fewest swaps are the first point that saves enough
    options = [
        Option(ingredient=o.ingredient, saving=o.saving,
               mass_change_g=o.mass_change_g, clashes=o.clashes, needs=o.needs)
        for o in random_case(Random(seed)).options()
    ]  # fmt: skip
    points = frontier(options)
    enough = [most for most, each in enumerate(points) if each.saving >= need]
    found = fewest_swaps(options, need)
    assert found.reached == bool(enough)
    if enough:
        assert len(found.chosen) == enough[0]
    else:
        assert found.saving == pytest.approx(points[-1].saving, abs=1e-9)


@settings(max_examples=rounds(80), deadline=None)
@given(SEEDS, st.integers(0, 4))
def test_a_stopped_search_is_no_worse_than_one_by_one_and_no_better_than_the_best(
    seed: int, nodes: int
) -> None:
    case = random_case(Random(seed))
    options, figures = case.options(), case.figures
    best, simple = fewest_swaps(options, case.need), one_by_one(options, case.need)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(solver, "MOST_NODES", nodes)
        found = fewest_swaps(options, case.need)
        assert found == fewest_swaps(options, case.need)
    if found.proven:
        assert found == best
    assert found.chosen in set(sets(figures))
    assert simple in set(sets(figures))
    assert found.reached == (in_floats(case, found.chosen) >= case.need)
    assert best.reached >= found.reached >= (in_floats(case, simple) >= case.need)
    if found.reached:
        assert total(figures, best.chosen, "disturbance") <= total(
            figures, found.chosen, "disturbance"
        )
        if in_floats(case, simple) >= case.need:
            assert total(figures, found.chosen, "disturbance") <= total(
                figures, simple, "disturbance"
            )
    elif not best.reached:
        most = in_floats(case, one_by_one(options))
        assert most - 1e-9 <= found.saving <= best.saving + 1e-9
