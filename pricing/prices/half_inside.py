"""Works out how wide a band must be so that half of the prices held out fall inside it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pricing.prices.bridge_error import EDGES, ENOUGH, NORMAL_HALF, GapErrors, Key

Floats = NDArray[np.float64]
Mask = NDArray[np.bool_]

KINDS = ("fresh", "one", "two")


@dataclass(frozen=True, kw_only=True)
class HeldOut:
    """Prices held out and what was made of them: arrays with one element a case."""

    ends: NDArray[np.str_]  # fresh, one or two (queries/prices/held_out_errors.sql)
    gap_months: Floats
    ingredient_id: NDArray[np.int64]
    truth: Floats
    bridge: Floats
    hold: Floats
    line: Floats
    spread: Floats  # standard error of the mean of the sources ÷ price; 0: one source

    @property
    def off(self) -> Floats:
        """How far the truth lay from the figure, as a share of the figure."""
        return np.abs(self.truth / self.bridge - 1)

    def by_key(self) -> Iterator[tuple[Key, Mask]]:
        """Yield each class of gaps that has cases, with the mask of its cases."""
        place = np.searchsorted(np.array(EDGES), self.gap_months - 0.05)  # as gap_class
        for ends in KINDS:
            here = self.ends == ends
            if ends == "fresh":  # of one source alone no band is claimed
                here &= self.spread > 0
                if here.any():
                    yield (ends, None), here
                continue
            for at, edge in enumerate((*EDGES, None)):
                if (some := here & (place == at)).any():
                    yield (ends, edge), some


@dataclass(frozen=True, kw_only=True)
class Widths:
    """A band's two parts: half of the cases lie within their root sum of squares."""

    spread_times: float  # standard errors of the mean of the sources
    moved: Mapping[Key, float]  # what the move leaves open, as a share of the price
    cases: Mapping[Key, int]

    def of(self, key: Key, spread: Floats) -> Floats:
        """Return how wide the band of each case is, as a share of its figure."""
        return np.hypot(self.moved[key], self.spread_times * spread)


def widths(found: HeldOut, only: Mask | None = None) -> Widths:
    """Return the parts that put half of the cases inside.

    First the spread: the median of error ÷ standard error of the prices that counted as seen. Then
    each class of moved prices: an error e lies inside a band of moved part m and spread s if
    e² ≤ m² + s², that is e² − s² ≤ m², so m² is the median of e² − s² (0 where that is less).
    """
    off, times = found.off, NORMAL_HALF
    moved: dict[Key, float] = {}
    cases: dict[Key, int] = {}
    for key, mask in found.by_key():
        here = mask if only is None else mask & only
        if not here.any():
            continue
        cases[key] = int(here.sum())
        if key[0] == "fresh":
            if cases[key] >= ENOUGH:
                times = float(np.median(off[here] / found.spread[here]))
            moved[key] = 0.0
            continue
        left = np.median(off[here] ** 2 - (times * found.spread[here]) ** 2)
        moved[key] = float(np.sqrt(max(0.0, left)))
    return Widths(spread_times=times, moved=moved, cases=cases)


def inside(found: HeldOut) -> tuple[int, int]:
    """Return how many of how many truths fell inside, each judged by other ingredients' prices.

    The ingredients are dealt into two halves by turns; the bands of one half are those that the
    other half gives, where it has enough cases, as a costing would take them.
    """
    _, turn = np.unique(found.ingredient_id, return_inverse=True)
    hits = judged = 0
    for half in (turn % 2 == 0, turn % 2 == 1):
        other = widths(found, ~half)
        for key, mask in found.by_key():
            if other.cases.get(key, 0) < ENOUGH:
                continue
            here = mask & half
            hits += int((found.off[here] <= other.of(key, found.spread[here])).sum())
            judged += int(here.sum())
    return hits, judged


def gap_errors(found: HeldOut) -> list[GapErrors]:
    """Return a row for each class of gaps that has cases: fresh, then from one, then from two."""
    parts = widths(found)
    ways = {"bridge_pct": found.bridge, "hold_pct": found.hold, "line_pct": found.line}
    rows = []
    for key, here in found.by_key():
        truth = found.truth[here]
        nearest = np.minimum(np.abs(found.hold - found.truth), np.abs(found.line - found.truth))
        rows.append(
            GapErrors(
                ends=key[0],
                up_to_months=key[1],
                cases=int(here.sum()),
                **{n: 100 * float(np.median(np.abs(w[here] / truth - 1))) for n, w in ways.items()},
                moved_pct=100 * parts.moved[key],
                spread_times=parts.spread_times,
                bridge_best=int((np.abs(found.bridge - found.truth) <= nearest)[here].sum()),
            )
        )
    return rows
