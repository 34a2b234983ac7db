"""Splits the kitchen's own index into categories, groups of dishes, dishes and ingredients."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from pricing.inflation.prepared import Bools, Floats, Prepared
from pricing.inflation.records import GroupIndex, IngredientIndex
from pricing.inflation.twelve_months import rate_12_pct
from pricing.names import name_key
from pricing.prices.settled import one_market
from pricing.series.many_months import relative


@dataclass(frozen=True, kw_only=True)
class Parts:
    """Splits the index of the fixed recipes into groups; the parts of each split add up."""

    found: Prepared
    value: Floats  # [ingredient][day]
    total: Floats  # [day]
    counted: Bools  # [ingredient]
    year: int | None  # the day a year before the last
    price: Floats  # [ingredient][day]

    def figures(self, value: Floats) -> dict[str, float | None]:
        """Return the figures of a group from what it costs each day."""
        first, last, whole = float(value[0]), float(value[-1]), float(self.total[0])
        before = None if self.year is None else float(value[self.year])
        all_before = None if self.year is None else float(self.total[self.year])
        return {
            "index": 100 * last / first if first > 0 else None,
            "share_from": first / whole if whole > 0 else 0.0,
            "contribution": 100 * (last - first) / whole if whole > 0 else 0.0,
            "rate_12_pct": rate_12_pct(last, before),
            "contribution_12": 100 * (last - before) / all_before
            if before is not None and all_before
            else None,
        }

    def by_category(self) -> tuple[GroupIndex, ...]:
        names = [each["category"] for each in self.found.facts]
        taken = self.found.baskets[0] != 0
        groups = []
        for name in dict.fromkeys(names):
            here = np.array([each == name for each in names]) & taken
            if here.any():
                figures: Any = self.figures(self.value[here].sum(axis=0))
                complete = bool(self.counted[here].all())
                groups.append(GroupIndex(name=name, complete=complete, **figures))
        return tuple(sorted(groups, key=_largest_first))

    def dishes(self) -> tuple[Floats, Bools]:
        """Return what each dish of the fixed recipes costs each day, and which are complete."""
        known = self.found.recipes.copy()
        known.data = np.nan_to_num(known.data)
        costs = known @ np.where(self.counted[:, None], self.price, 0.0)
        pattern = self.found.recipes.copy()
        pattern.data = np.ones_like(pattern.data)
        return costs, pattern @ (~self.counted).astype(float) == 0

    def by_group(self) -> tuple[GroupIndex, ...]:
        """Return the groups that the kitchen gives its dishes; names compare as names do."""
        keys = [None if each is None else name_key(each) for each in self.found.groups]
        if not any(keys):
            return ()
        names: dict[str | None, str | None] = {}
        for key, name in zip(keys, self.found.groups, strict=True):
            names.setdefault(key, name)  # as the first dish writes it
        costs, complete = self.dishes()
        groups = []
        for key, name in names.items():
            here = np.array([each == key for each in keys])
            figures: Any = self.figures(costs[here].sum(axis=0))
            groups.append(GroupIndex(name=name, complete=bool(complete[here].all()), **figures))
        return tuple(sorted(groups, key=_largest_first))

    def by_dish(self) -> tuple[GroupIndex, ...]:
        costs, complete = self.dishes()
        groups = []
        for row, name in enumerate(self.found.dishes):
            figures: Any = self.figures(costs[row])
            groups.append(GroupIndex(name=name, complete=bool(complete[row]), **figures))
        return tuple(sorted(groups, key=_largest_first))

    def by_ingredient(self) -> tuple[IngredientIndex, ...]:
        found, groups = self.found, []
        for row in np.flatnonzero(self.counted & (found.baskets[0] != 0)).tolist():
            facts, figures = found.facts[row], self.figures(self.value[row])
            typed: Any = figures
            matched, settled = found.matched[row], found.settled[row]
            groups.append(
                IngredientIndex(
                    name=facts["name"],
                    complete=True,
                    category=facts["category"],
                    matched=matched if matched.sources or matched.chained is not None else None,
                    official_relative=relative(
                        found.months, facts["series"], found.days[0], found.days[-1]
                    ),
                    series=facts["series"],
                    marked=settled is not None,
                    market=None if settled is None else one_market(settled),
                    **typed,
                )
            )
        return tuple(sorted(groups, key=_largest_first))


def _largest_first(group: GroupIndex) -> tuple[float, str]:
    return -abs(group.contribution), (group.name or "").casefold()
