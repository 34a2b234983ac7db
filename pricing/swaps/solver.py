"""Asks an exact solver (HiGHS) which options go together best, and checks what it answers."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from pricing.swaps.option import Option

Places = tuple[int, ...]
Floats = NDArray[np.float64]

TIE = 1e-5  # sums as near as this share of the largest single figure are equal (HiGHS sees 1e-6)
SLACK = 1e-6  # HiGHS's own tolerance for such figures; what it lets through is checked here
NEAR_MISSES = 50  # sets that miss the need by about TIE, cut out one by one before all of them are
AT_ONCE = 16  # places settled by one question for the first places: weights 2^15 to 1
# Steps of a search: nodes of HiGHS's tree, one at least a question. Not seconds, so that an answer
# does not depend on the machine. The best set out of 20 ingredients takes 5 to 30 of them.
MOST_NODES = 100
_BEST, _NONE = 0, 2  # scipy.optimize.milp's status; it has none of its own for a full tree


@dataclass(kw_only=True)
class _Rows:
    """Linear conditions on which options are chosen: low ≤ row · x ≤ high."""

    rows: list[Floats] = field(default_factory=list)
    low: list[float] = field(default_factory=list)
    high: list[float] = field(default_factory=list)

    def add(self, row: Floats, low: float = -math.inf, high: float = math.inf) -> None:
        self.rows.append(row)
        self.low.append(low)
        self.high.append(high)

    def copy(self) -> _Rows:
        return _Rows(rows=[*self.rows], low=[*self.low], high=[*self.high])


class Search:
    """The options of a dish, ready to be asked for the best set by one order of wishes or another.

    Wishes, each a sum over the chosen: `saving` (most), `disturbance`, `mass` and `swaps` (least).
    """

    def __init__(self, options: Sequence[Option]) -> None:
        needed = frozenset[int]().union(*(each.needs for each in options))
        # an option that saves nothing and helps no other can only do harm
        self.places = [p for p, each in enumerate(options) if each.saving > 0 or p in needed]
        self.options = [options[p] for p in self.places]
        self.at = {p: at for at, p in enumerate(self.places)}
        self.sums: Mapping[str, Floats] = {
            "saving": _to_unit([-each.saving for each in self.options]),
            "disturbance": _to_unit([each.disturbance for each in self.options]),
            "mass": _to_unit([each.mass_change_g for each in self.options]),
            "swaps": _to_unit([1.0] * len(self.options)),
        }
        self.largest = max((abs(each.saving) for each in self.options), default=1.0) or 1.0
        self.together = self._together()
        self.proven, self.nodes_left = True, MOST_NODES

    def best(
        self, wishes: Sequence[str], *, need: float = -math.inf, most: int | None = None
    ) -> Places | None:
        """Return the places of the best set by the wishes in their order, then the first places.

        `need`: least saving, currency per portion; `most`: most swaps. None when no set was found.
        Afterwards `proven` is false where some question was stopped before it was settled; no
        further one is then asked.
        """
        rows, bands = self.together.copy(), dict[str, float]()
        if most is not None:
            rows.add(np.ones(len(self.options)), high=most)
        if math.isfinite(need):
            rows.add(-self.sums["saving"], low=need / self.largest - SLACK)
        found = self._ask(wishes[0], rows, bands, need)
        for wish, following in zip(wishes, (*wishes[1:], None), strict=True):
            if found is None:
                break
            rows.add(*self._other_than(found))
            high = self._sum(wish, found) + TIE
            if wish != wishes[0]:  # ties are rare by now, and a second best is sooner found
                rival = self._ask(wish, rows, bands, need)
                if rival is None or self._sum(wish, rival) > high:
                    break
            bands[wish] = high
            rows.add(self.sums[wish], high=high)
            rival = self._ask(following, rows, bands, need)
            if rival is None:  # no other is as good so far
                break
            if following is None:
                found = min(found, rival)
            elif self._sum(following, rival) < self._sum(following, found) - TIE:
                found = rival
        return None if found is None else tuple(self.places[at] for at in found)

    def _together(self) -> _Rows:
        """Return what every set keeps to: one option an ingredient, clashes and needs."""
        rows, count = _Rows(), len(self.options)
        of: dict[str, list[int]] = {}
        for at, each in enumerate(self.options):
            of.setdefault(each.ingredient, []).append(at)
        apart = {
            frozenset((at, self.at[p]))
            for at, each in enumerate(self.options)
            for p in each.clashes
            if p in self.at
        }
        for group in [*of.values(), *sorted(map(sorted, apart))]:
            rows.add(_ones(count, group), high=1.0)
        for at, each in enumerate(self.options):
            if each.needs:
                helpers = [self.at[p] for p in each.needs]
                rows.add(_ones(count, [at]) - _ones(count, helpers), high=0.0)
        return rows

    def _ask(
        self, wish: str | None, rows: _Rows, bands: Mapping[str, float], need: float
    ) -> Places | None:
        """Return the best set by one wish, or the first places, that keeps to all exactly."""
        misses = 0
        while True:
            found = self._first(rows) if wish is None else self._solve(self.sums[wish], rows)
            if found is None:
                return None
            if math.fsum(self.options[at].saving for at in found) < need:
                rows.add(*self._dearer_than(found))
                misses += 1
                if misses == NEAR_MISSES:
                    self.proven = False  # a set that just reaches it would be cut out too
                    rows.add(-self.sums["saving"], low=need / self.largest + 2 * TIE)
            elif any(self._sum(each, found) > high + 2 * SLACK for each, high in bands.items()):
                rows.add(*self._other_than(found))
            else:
                return found

    def _first(self, rows: _Rows) -> Places | None:
        """Return the set that comes first by its places."""
        count, found = len(self.options), None
        low, high = np.zeros(count), np.ones(count)
        for start in range(0, count, AT_ONCE):
            part = np.arange(start, min(start + AT_ONCE, count))
            weights = np.zeros(count)
            weights[part] = -(2.0 ** (part[::-1] - start))
            found = self._solve(weights, rows, low, high)
            if found is None:
                return None
            low[part] = high[part] = _ones(count, found)[part]
        return found

    def _solve(
        self, cost: Floats, rows: _Rows, low: Floats | float = 0.0, high: Floats | float = 1.0
    ) -> Places | None:
        from scipy.optimize import Bounds, LinearConstraint, milp  # slow to import

        if not self.options:
            return None
        if self.nodes_left <= 0:
            self.proven = False
            return None
        answer = milp(
            cost,
            integrality=np.ones(len(cost)),
            bounds=Bounds(low, high),
            constraints=LinearConstraint(np.array(rows.rows), rows.low, rows.high),
            options={"mip_rel_gap": 0.0, "node_limit": self.nodes_left},
        )
        self.nodes_left -= max(1, answer.mip_node_count or 0)
        if answer.status not in (_BEST, _NONE):
            self.proven, self.nodes_left = False, 0
        return None if answer.x is None else tuple(map(int, np.flatnonzero(answer.x > 0.5)))

    def sums_of(self, wishes: Sequence[str], places: Places) -> tuple[float, ...]:
        """Return what each wish adds up to over the options at `places`; less is better."""
        return tuple(self._sum(wish, tuple(self.at[p] for p in places)) for wish in wishes)

    def _sum(self, wish: str, found: Places) -> float:
        return math.fsum(self.sums[wish][list(found)])

    def _other_than(self, found: Places) -> tuple[Floats, float]:
        """Return the condition that the set is another one."""
        return 1.0 - 2.0 * _ones(len(self.options), found), 1.0 - len(found)

    def _dearer_than(self, found: Places) -> tuple[Floats, float]:
        """Return the condition that some ingredient saves more than it does in this set.

        A set without one saves no more than this set, in exact sums and so in math.fsum.
        """
        count, now = len(self.options), {self.options[at].ingredient: at for at in found}
        more, losses = [], [at for at in found if self.options[at].saving < 0]  # left out: more too
        for at, each in enumerate(self.options):
            instead_of = now.get(each.ingredient)
            if each.saving > (0.0 if instead_of is None else self.options[instead_of].saving):
                more.append(at)
        return _ones(count, more) - _ones(count, losses), 1.0 - len(losses)


def _to_unit(figures: Sequence[float]) -> Floats:
    """Return the figures scaled so that the largest, either way, is 1."""
    scaled = np.asarray(figures, dtype=float)
    largest = float(np.abs(scaled).max(initial=0.0))
    return scaled / largest if largest else scaled


def _ones(count: int, at: Iterable[int]) -> Floats:
    row = np.zeros(count)
    row[list(at)] = 1.0
    return row
