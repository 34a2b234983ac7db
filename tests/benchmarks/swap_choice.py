"""Times the choice of swaps for one dish, beside trying every set, and on dishes of full size.

    python -m tests.benchmarks.swap_choice [--repeats N] [--tried SETS]

The dishes are invented: savings and changes of mass at random, or in whole cents and tens of grams
so that many sets tie, with and without clashes, helpers and disturbances. The saving asked for is
half of the largest there could be, and for the last line more than there is. First the solver
against trying every set, on dishes small enough for it (--tried sets at most), each answer
compared; then 20 ingredients with 5 swaps each, ties settled, at most 0.2 s wanted. scipy is
imported before the clock starts; what importing it takes is printed. Exit status 1 if an answer
differs.
"""

from __future__ import annotations

import argparse
import itertools
import math
import os
import sys
import time
from dataclasses import dataclass
from random import Random
from statistics import median

from pricing.swaps.fewest import fewest_swaps, frontier
from pricing.swaps.option import Option

TARGET_SECONDS = 0.2
INGREDIENTS, EACH = 20, 5


@dataclass(frozen=True, kw_only=True)
class Kind:
    """How dishes of a kind are made up."""

    name: str
    coarse: bool = False  # whole cents and tens of grams
    clashes: int = 0  # pairs for 20 ingredients with 5 swaps each
    helpers: int = 0
    disturbances: tuple[float, ...] = (1.0,)
    share: float = 0.5  # of the largest saving there could be
    whole_frontier: bool = False


KINDS = (
    Kind(name="at random"),
    Kind(name="with ties", coarse=True),
    Kind(name="30 clashes", clashes=30),
    Kind(name="30 clashes, with ties", clashes=30, coarse=True),
    Kind(name="30 clashes, 10 helpers", clashes=30, helpers=10),
    Kind(name="30 clashes, disturbances", clashes=30, disturbances=(0.5, 1.0, 2.0, 3.0)),
    Kind(name="30 clashes, out of reach", clashes=30, share=1.1),
    Kind(name="30 clashes, the frontier", clashes=30, whole_frontier=True),
)


def dish(chance: Random, kind: Kind, ingredients: int, each: int) -> list[Option]:
    count = ingredients * each
    share = count / (INGREDIENTS * EACH)
    clashes: list[set[int]] = [set() for _ in range(count)]
    needs: list[set[int]] = [set() for _ in range(count)]
    for links, pairs in ((clashes, kind.clashes), (needs, kind.helpers)):
        for _ in range(round(pairs * share)):
            one, other = chance.sample(range(count), 2)
            links[one].add(other)
    return [
        Option(
            ingredient=f"ingredient {place // each}",
            saving=chance.randint(-5, 30) / 100 if kind.coarse else chance.uniform(-0.05, 0.3),
            mass_change_g=chance.randint(0, 20) * 10.0 if kind.coarse else chance.uniform(0, 200),
            disturbance=chance.choice(kind.disturbances),
            clashes=frozenset(clashes[place]),
            needs=frozenset(needs[place]),
        )
        for place in range(count)
    ]


def need_of(options: list[Option], kind: Kind) -> float:
    best: dict[str, float] = {}
    for each in options:
        best[each.ingredient] = max(best.get(each.ingredient, 0.0), each.saving)
    return kind.share * math.fsum(best.values())


def tried(options: list[Option], need: float) -> tuple[int, ...]:
    """Return the set that trying every one of them finds; sums to nine decimals tie."""
    groups: dict[str, list[int | None]] = {}
    for place, option in enumerate(options):
        groups.setdefault(option.ingredient, [None]).append(place)
    best: tuple[object, ...] | None = None
    for picked in itertools.product(*groups.values()):
        chosen = tuple(sorted(place for place in picked if place is not None))
        if any(not options[p].clashes.isdisjoint(chosen) for p in chosen):
            continue
        if any(options[p].needs and options[p].needs.isdisjoint(chosen) for p in chosen):
            continue
        saving = math.fsum(options[p].saving for p in chosen)
        disturbance = round(math.fsum(options[p].disturbance for p in chosen), 9)
        mass = round(math.fsum(options[p].mass_change_g for p in chosen), 9)
        if saving >= need:
            key = (0, disturbance, mass, -round(saving, 9), chosen)
        else:
            key = (1, -round(saving, 9), disturbance, mass, chosen)
        if best is None or key < best:  # type: ignore[operator]
            best = key
    assert best is not None
    return best[-1]  # type: ignore[return-value]


def against_trying(repeats: int, sets: int) -> list[str]:
    """Print how the solver compares with trying every set; return where answers differ."""
    wrong = []
    print("ingredients × swaps        sets   every set     solver     ratio")
    for ingredients, each in ((3, 3), (4, 4), (5, 4), (6, 4), (6, 5), (7, 5), (8, 5)):
        if (each + 1) ** ingredients > sets:
            continue
        spent = [0.0, 0.0]
        kinds = [kind for kind in KINDS if not kind.whole_frontier]
        for number in range(repeats):
            kind = kinds[number % len(kinds)]
            options = dish(Random(number), kind, ingredients, each)
            need = need_of(options, kind)
            start = time.perf_counter()
            expected = tried(options, need)
            between = time.perf_counter()
            found = fewest_swaps(options, need)
            spent[0] += between - start
            spent[1] += time.perf_counter() - between
            if found.chosen != expected:
                wrong.append(f"{ingredients} × {each}, {kind.name}, {number}: {found}, {expected}")
        print(
            f"{ingredients:>7} × {each:<10} {(each + 1) ** ingredients:>12,}"
            f" {spent[0] / repeats:>9.4f} s {spent[1] / repeats:>8.4f} s"
            f" {spent[0] / spent[1]:>8.1f} ×"
        )
    return wrong


def full_size(repeats: int) -> None:
    print(
        f"\n{f'{INGREDIENTS} ingredients × {EACH} swaps':28}"
        "    median   slowest   of the processor: slowest"
    )
    for kind in KINDS:
        runs, processor, unproven = [], [], 0
        for number in range(repeats):
            options = dish(Random(number), kind, INGREDIENTS, EACH)
            need = need_of(options, kind)
            start, work = time.perf_counter(), time.process_time()
            if kind.whole_frontier:
                unproven += not all(each.proven for each in frontier(options))
            else:
                unproven += not fewest_swaps(options, need).proven
            runs.append(time.perf_counter() - start)
            processor.append(time.process_time() - work)
        said = "reached" if median(runs) <= TARGET_SECONDS else "MISSED"
        if kind.whole_frontier:  # twenty questions, not one: nothing was set for it
            said = ""
        if unproven:
            said = f"{said} {unproven} not proven"
        print(
            f"{kind.name:28} {median(runs):>7.3f} s {max(runs):>7.3f} s   "
            f"{median(processor):>7.3f} s {max(processor):>7.3f} s   {said}".rstrip()
        )


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--repeats", type=int, default=14)
    parser.add_argument("--tried", type=int, default=60_000, help="most sets to try for one dish")
    asked = parser.parse_args()
    start = time.perf_counter()
    import scipy.optimize  # noqa: F401

    print(f"Importing scipy.optimize: {time.perf_counter() - start:.2f} s, not counted below.\n")
    wrong = against_trying(asked.repeats, asked.tried)
    full_size(asked.repeats)
    print(f"At most {TARGET_SECONDS:g} s wanted (median); of {os.cpu_count()} processors.")
    print("\n".join(wrong) if wrong else "Every answer is that of trying every set.")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
