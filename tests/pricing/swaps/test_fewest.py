"""The fewest swaps that save an amount, worked out with a pencil."""

from __future__ import annotations

import itertools
import math
import subprocess
import sys
import time
from random import Random
from typing import Any

import pytest

from pricing.swaps import solver
from pricing.swaps.fewest import fewest_swaps, frontier
from pricing.swaps.option import Choice, Option


def option(ingredient: str, saving: float, mass: float = 0.0, **others: Any) -> Option:
    return Option(
        ingredient=ingredient,
        saving=saving,
        mass_change_g=mass,
        **others,
    )


def places(*chosen: int) -> frozenset[int]:
    return frozenset(chosen)


FOUR = [option("beef", 0.5), option("cream", 0.25), option("cream", 0.125), option("leeks", 0.125)]


@pytest.mark.parametrize(
    ("need", "chosen", "saving"),
    [
        (0.0, (), 0.0),
        (-1.0, (), 0.0),
        (0.125, (0,), 0.5),  # 0, 1, 2 or 3 would do; the largest saving of one swap
        (0.5, (0,), 0.5),
        (0.625, (0, 1), 0.75),  # 0.5 + 0.25; with 2 or 3 it is 0.625, which saves less
        (0.75, (0, 1), 0.75),
        (0.875, (0, 1, 3), 0.875),  # cream once only
    ],
)
def test_the_fewest_swaps_are_chosen(need: float, chosen: tuple[int, ...], saving: float) -> None:
    assert fewest_swaps(FOUR, need) == Choice(chosen=chosen, saving=saving, reached=True)


def test_out_of_reach_gives_the_largest_saving_there_is() -> None:
    assert fewest_swaps(FOUR, 0.876) == Choice(chosen=(0, 1, 3), saving=0.875, reached=False)
    assert fewest_swaps([option("beef", -0.25)], 0.1) == Choice(chosen=(), saving=0, reached=False)
    assert fewest_swaps([], 0.1) == Choice(chosen=(), saving=0, reached=False)
    assert not fewest_swaps(FOUR, math.inf).reached


def test_what_is_out_of_reach_is_not_reached_by_a_swap_that_saves_nothing() -> None:
    assert fewest_swaps([*FOUR, option("rice", 0.0)], 9.0).chosen == (0, 1, 3)


def test_of_equally_few_swaps_the_one_that_changes_the_mass_least() -> None:
    options = [option("beef", 0.5, 40), option("cream", 0.375, 10), option("leeks", 0.25, 0)]
    assert fewest_swaps(options, 0.25).chosen == (2,)
    assert fewest_swaps(options, 0.375).chosen == (1,)
    assert fewest_swaps(options, 0.625).chosen == (1, 2)  # 10 g; beef and leeks change 40 g


def test_then_the_largest_saving_and_then_the_first_places() -> None:
    twice = [option("beef", 0.25, 5), option("cream", 0.5, 5), option("leeks", 0.5, 5)]
    assert fewest_swaps(twice, 0.25).chosen == (1,)


def test_one_tenth_and_two_tenths_tie_with_three_tenths() -> None:
    # in floats 0.1 + 0.2 is more than 0.3 by the last bit; the mass decides, 10 g against 20 g
    options = [
        option("beef", 0.5, 20, disturbance=0.3),
        option("cream", 0.25, 5, disturbance=0.1),
        option("leeks", 0.25, 5, disturbance=0.2),
    ]
    assert fewest_swaps(options, 0.5).chosen == (1, 2)


def test_masses_tie_within_a_hundred_thousandth_of_the_largest() -> None:
    # 500 g × 0.00001 = 0.005 g
    near = [option("beef", 0.5, 500), option("cream", 0.25, 499.996)]
    assert fewest_swaps(near, 0.25).chosen == (0,)
    apart = [option("beef", 0.5, 500), option("cream", 0.25, 499.98)]
    assert fewest_swaps(apart, 0.25).chosen == (1,)


def test_a_saving_that_misses_by_the_last_bit_does_not_reach() -> None:
    options = [option("beef", 0.3, 10), option("cream", 0.1), option("leeks", 0.2)]
    need = math.fsum([0.1, 0.2])  # 0.30000000000000004
    assert fewest_swaps(options, 0.3).chosen == (0,)
    assert fewest_swaps(options, need) == Choice(chosen=(1, 2), saving=need, reached=True)
    more = math.nextafter(need, 1)
    assert fewest_swaps(options, more).chosen == (0, 2)  # 0.5; as heavy as 0.3 + 0.1
    assert fewest_swaps(options[1:], more) == Choice(chosen=(0, 1), saving=need, reached=False)


def test_a_near_miss_is_made_good_by_a_helper_that_loses_less() -> None:
    # 0.4 − 0.1 misses the need by the last bit; the other helper, which disturbs more (2.5 in all),
    # loses nothing: 0.4; beef on top of the first would come to 3
    options = [
        option("stock", 0.4, needs=places(1, 2)),
        option("bones", -0.1),
        option("peelings", 0.0, disturbance=1.5),
        option("beef", 0.2),
    ]
    need = math.nextafter(math.fsum([0.4, -0.1]), 1)
    assert fewest_swaps(options, need) == Choice(chosen=(0, 2), saving=0.4, reached=True)


def test_the_least_disturbing_set_need_not_be_the_smallest() -> None:
    options = [
        option("saffron", 0.5, disturbance=5),
        option("cream", 0.25, disturbance=2),
        option("leeks", 0.25, disturbance=2),
    ]
    assert fewest_swaps(options, 0.5).chosen == (1, 2)  # 4 is less than 5
    assert fewest_swaps(options, 0.75).chosen == (0, 1)


def test_clashing_swaps_are_not_made_together_whichever_of_them_says_so() -> None:
    for one, other in ((places(1), places()), (places(), places(0))):
        options = [
            option("beef", 0.5, clashes=one),
            option("cream", 0.5, clashes=other),
            option("leeks", 0.25),
        ]
        assert fewest_swaps(options, 0.75).chosen == (0, 2)
        assert fewest_swaps(options, 1.0) == Choice(chosen=(0, 2), saving=0.75, reached=False)


def test_a_swap_that_needs_another_takes_it_along_even_at_a_loss() -> None:
    options = [
        option("stock", 0.75, needs=places(1, 2)),
        option("bones", -0.125),
        option("trimmings", -0.25),
        option("leeks", 0.25),
    ]
    assert fewest_swaps(options, 0.25).chosen == (3,)
    assert fewest_swaps(options, 0.5) == Choice(chosen=(0, 1), saving=0.625, reached=True)
    assert fewest_swaps(options[:1] + [option("bones", -1.0)] * 2, 0.5).reached is False


def test_the_frontier_goes_on_until_more_swaps_save_nothing() -> None:
    assert [(each.chosen, each.saving) for each in frontier(FOUR)] == [
        ((), 0.0),
        ((0,), 0.5),
        ((0, 1), 0.75),
        ((0, 1, 3), 0.875),
    ]
    assert frontier([]) == (Choice(chosen=(), saving=0.0, reached=True),)
    assert frontier([option("beef", -1.0)]) == (Choice(chosen=(), saving=0.0, reached=True),)


def test_a_frontier_can_rest_where_two_swaps_belong_together() -> None:
    options = [option("stock", 0.75, needs=places(1)), option("bones", -0.125), option("rye", 0.25)]
    assert [each.chosen for each in frontier(options)] == [(), (2,), (0, 1), (0, 1, 2)]
    alone = frontier(options[:2])
    assert [(each.chosen, each.saving) for each in alone] == [((), 0), ((), 0), ((0, 1), 0.625)]


def test_a_frontier_respects_clashes() -> None:
    options = [
        option("beef", 0.5, clashes=places(1, 2)),
        option("cream", 0.375),
        option("leeks", 0.25),
    ]
    assert [each.chosen for each in frontier(options)] == [(), (0,), (1, 2)]  # 0.625 over 0.5


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"saving": math.nan}, "expected finite figures"),
        ({"saving": 1.0, "mass": -1.0}, "a change of mass of 0 or more"),
        ({"saving": 1.0, "disturbance": 0.0}, "a disturbance above 0"),
        ({"saving": 1.0, "clashes": places(1)}, "Found place 1 named by option 0"),
        ({"saving": 1.0, "needs": places(-1)}, "Found place -1 named by option 0"),
        ({"saving": 1.0, "clashes": places(0)}, "that of another option"),
    ],
)
def test_a_figure_out_of_range_is_refused(wrong: dict[str, Any], said: str) -> None:
    for asked in (lambda given: fewest_swaps(given, 1.0), frontier):
        with pytest.raises(ValueError, match=said):
            asked([option("beef", **wrong)])


def test_a_need_that_is_no_number_is_refused() -> None:
    with pytest.raises(ValueError, match="Found no number"):
        fewest_swaps(FOUR, math.nan)


def crowded() -> list[Option]:
    """Return 12 ingredients with 3 swaps each; every third pair of swaps clashes."""
    chance = Random(20261124)
    pairs = list(itertools.combinations(range(36), 2))
    apart = chance.sample(pairs, len(pairs) // 3)
    return [
        option(
            f"ingredient {place // 3}",
            chance.randint(5, 40) / 100,
            chance.randint(0, 20) * 10.0,
            clashes=places(*(other for one, other in apart if one == place)),
        )
        for place in range(36)
    ]


def go_together(options: list[Option], chosen: tuple[int, ...]) -> bool:
    return len({options[p].ingredient for p in chosen}) == len(chosen) and all(
        options[p].clashes.isdisjoint(chosen) for p in chosen
    )


def test_a_busy_machine_gives_the_same_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    options = crowded()
    quiet = fewest_swaps(options, 1.25), frontier(options)
    hours = itertools.count(step=3600.0)
    for clock in ("monotonic", "perf_counter", "process_time", "time"):
        monkeypatch.setattr(time, clock, lambda: next(hours))
    assert (fewest_swaps(options, 1.25), frontier(options)) == quiet
    assert quiet[0].proven


@pytest.mark.parametrize("nodes", [0, 1, 2])
def test_a_stopped_search_says_so_and_is_the_same_every_time(
    nodes: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    options = crowded()
    best, points = fewest_swaps(options, 1.25), frontier(options)
    monkeypatch.setattr(solver, "MOST_NODES", nodes)
    stopped = fewest_swaps(options, 1.25)
    assert stopped == fewest_swaps(options, 1.25)
    assert not stopped.proven
    assert stopped.reached
    assert go_together(options, stopped.chosen)
    assert len(stopped.chosen) >= len(best.chosen)
    fewer = frontier(options)
    assert fewer == frontier(options)
    assert not all(point.proven for point in fewer)
    for most, point in enumerate(fewer):
        assert go_together(options, point.chosen)
        assert len(point.chosen) <= most
        assert point.saving <= points[min(most, len(points) - 1)].saving + 1e-9


def test_a_search_stopped_at_once_has_the_set_that_takes_the_best_at_each_step(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # beef first, which saves most; then cream is out, and leeks come next: 0.5 + 0.125. The best
    # two are cream and rice: 0.75
    options = [
        option("beef", 0.5, clashes=places(1, 2)),
        option("cream", 0.375),
        option("rice", 0.375),
        option("leeks", 0.125),
    ]
    assert fewest_swaps(options, 0.625) == Choice(chosen=(1, 2), saving=0.75, reached=True)
    monkeypatch.setattr(solver, "MOST_NODES", 0)
    first = Choice(chosen=(0, 3), saving=0.625, reached=True, proven=False)
    assert fewest_swaps(options, 0.625) == first
    short = Choice(chosen=(0, 3), saving=0.625, reached=False, proven=False)
    assert fewest_swaps(options, 0.75) == short
    assert [point.chosen for point in frontier(options)] == [(), (0,), (0, 3)]


def test_what_a_stopped_search_had_for_nothing_is_left_out_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # by saving per disturbance: leeks 0.25, then beef 0.2; beef alone reaches 1.0, at 5 not 6
    options = [option("leeks", 0.25, disturbance=1), option("beef", 1.0, disturbance=5)]
    monkeypatch.setattr(solver, "MOST_NODES", 0)
    assert fewest_swaps(options, 1.0).chosen == (1,)


def test_a_stopped_search_takes_a_helper_along(monkeypatch: pytest.MonkeyPatch) -> None:
    options = [
        option("stock", 0.75, needs=places(1, 2)),
        option("bones", -0.125),
        option("trimmings", -0.25),
        option("leeks", 0.25),
    ]
    monkeypatch.setattr(solver, "MOST_NODES", 0)
    assert fewest_swaps(options, 0.875).chosen == (0, 1, 3)


SAME = """
import math
from pricing.swaps.fewest import Option, fewest_swaps
options = [
    Option(ingredient=str(n % 12), saving=0.1, mass_change_g=10.0)
    for n in range(36)
]
for need in (math.fsum([0.1] * 3), math.nextafter(math.fsum([0.1] * 3), 1)):
    found = fewest_swaps(options, need)
    assert found.reached and found.saving >= need and len(found.chosen) in (3, 4), found
"""


def test_the_solver_prints_nothing_where_an_answer_may_be_json() -> None:
    # three of 0.1 miss the second need by the last bit, 5,940 sets of them: the hardest case for it
    done = subprocess.run([sys.executable, "-c", SAME], check=True, capture_output=True)
    assert (done.stdout, done.stderr) == (b"", b"")
