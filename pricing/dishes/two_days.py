"""The whole catalogue on two days, like for like: what a portion of each dish takes and costs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray
from scipy import sparse

from pricing.book.connect import Connection
from pricing.dishes.matrix import Catalogue, DishesOnDay
from pricing.prices.rule import Rule
from pricing.prices.settled import Markets, compared_columns

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True, kw_only=True)
class TwoDays:
    """Dishes × ingredients then and now, priced, but for what cannot be compared in a dish: what it
    takes then without a price on either day, what it takes now without one now, and amounts that
    are not known. Those count as nothing, and are in `left_out`."""

    catalogue: Catalogue
    seen_price: tuple[Floats, Floats]  # [ingredient] as the rule has it; NaN = missing
    bridged: tuple[Bools, Bools]  # [ingredient]
    settled: Mapping[int, Markets]  # ingredient id → its markets then and now, where settled
    price: tuple[Floats, Floats]  # [ingredient] as it counts; 0 = missing
    quantity: tuple[sparse.csr_array, sparse.csr_array]  # [dish][ingredient] as it counts
    left_out: sparse.csr_array  # [dish][ingredient] 1 where something cannot be compared
    unmeasured: Bools  # [ingredient] some line of it has no amount in its base unit

    def complete(self) -> Bools:
        """Tell of each dish whether nothing of it is left out."""
        complete: Bools = np.asarray(self.left_out.sum(axis=1)).ravel() == 0
        return complete


def two_days(con: Connection, rule: Rule, catalogue: Catalogue, days: tuple[date, date]) -> TwoDays:
    """Cost the catalogue on `days`: then and now, in this order. Raises RecipeRefused."""
    taken = catalogue.on(con, days[0]), catalogue.on(con, days[1])
    apart = sorted(set(days))
    found = compared_columns(con, rule, catalogue.ingredient_ids.tolist(), apart)
    at0, at1 = (apart.index(day) for day in days)
    unit_price = np.asarray(found.columns["unit_price"], dtype=float)
    bridged = np.asarray(found.columns["bridged"], dtype=bool)
    seen0, seen1 = unit_price[:, at0], unit_price[:, at1]
    unknown0, unknown1 = (_where(each, np.isnan(each.quantities.data)) for each in taken)
    left_out = _marks(
        _where(taken[0], np.isnan(seen0 + seen1)[taken[0].quantities.indices])
        + _where(taken[1], np.isnan(seen1)[taken[1].quantities.indices])
        + unknown0
        + unknown1
    )
    return TwoDays(
        catalogue=catalogue,
        seen_price=(seen0, seen1),
        bridged=(bridged[:, at0], bridged[:, at1]),
        settled={each: (ms[at0], ms[at1]) for each, ms in found.settled.items()},
        price=(np.nan_to_num(seen0), np.nan_to_num(seen1)),
        quantity=(_without(taken[0], left_out), _without(taken[1], left_out)),
        left_out=left_out,
        unmeasured=np.asarray((unknown0 + unknown1).sum(axis=0)).ravel() > 0,
    )


def _where(taken: DishesOnDay, which: Bools) -> sparse.csr_array:
    """Return 1 at each of the quantities that `which` tells, in the order they are stored."""
    pattern = taken.quantities.copy()
    pattern.data = which.astype(float)
    return pattern


def _marks(pattern: sparse.csr_array) -> sparse.csr_array:
    pattern.eliminate_zeros()
    pattern.data = np.ones_like(pattern.data)
    return pattern


def _without(taken: DishesOnDay, left_out: sparse.csr_array) -> sparse.csr_array:
    """Return the quantities without those left out."""
    known = taken.quantities.copy()
    known.data = np.nan_to_num(known.data)
    if left_out.nnz:
        known = (known - known.multiply(left_out)).tocsr()
        known.eliminate_zeros()
    return known
