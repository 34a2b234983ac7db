"""The whole catalogue on two days: what a portion of each dish takes, and what that costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray
from scipy import sparse

from pricing.book.connect import Connection
from pricing.dishes.matrix import Catalogue, DishesOnDay
from pricing.prices.both_days import on_both_days
from pricing.prices.rule import Rule, ask_cross, grid_columns

Floats = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class TwoDays:
    """Dishes × ingredients then and now, priced. An ingredient priced on one day only takes that
    price on both; what cannot be priced at all, or cannot be measured, counts as nothing."""

    catalogue: Catalogue
    taken: tuple[DishesOnDay, DishesOnDay]
    seen_price: tuple[Floats, Floats]  # [ingredient] as the rule has it; NaN = missing
    bridged: tuple[NDArray[np.bool_], NDArray[np.bool_]]  # [ingredient]
    price: tuple[Floats, Floats]  # [ingredient] as it counts; 0 = priced on neither day
    quantity: tuple[sparse.csr_array, sparse.csr_array]  # [dish][ingredient] as it counts
    unmeasured: NDArray[np.bool_]  # [ingredient] some line of it has no amount in its base unit

    def costs(self) -> tuple[Floats, Floats]:
        """Return the cost per portion of each dish then and now."""
        (then, now), (price0, price1) = self.quantity, self.price
        return then @ price0, now @ price1

    def complete(self) -> NDArray[np.bool_]:
        """Tell of each dish whether all it takes, then or now, is priced on one of the days."""
        missing = (np.isnan(self.seen_price[0]) & np.isnan(self.seen_price[1])).astype(float)
        gaps = np.zeros(len(self.catalogue.shown))
        for taken in self.taken:
            pattern = taken.quantities.copy()
            pattern.data = np.isnan(taken.quantities.data).astype(float)
            gaps += np.asarray(pattern.sum(axis=1)).ravel()
            pattern.data = np.ones_like(pattern.data)
            gaps += pattern @ missing
        complete: NDArray[np.bool_] = gaps == 0
        return complete


def two_days(con: Connection, rule: Rule, catalogue: Catalogue, days: Sequence[date]) -> TwoDays:
    """Cost the catalogue on `days`: then and now, in this order. Raises RecipeRefused."""
    then, now = days
    taken = catalogue.on(con, then), catalogue.on(con, now)
    apart = sorted({then, now})
    grid = grid_columns(con, rule, ask_cross(catalogue.ingredient_ids.tolist(), apart))
    shape = (len(catalogue.ingredient_ids), len(apart))
    unit_price = np.asarray(grid["unit_price"], dtype=float).reshape(shape)
    bridged = np.asarray(grid["bridged"], dtype=bool).reshape(shape)
    at0, at1 = apart.index(then), apart.index(now)
    seen0, seen1 = unit_price[:, at0], unit_price[:, at1]
    quantity, unmeasured = _measured(taken)
    return TwoDays(
        catalogue=catalogue,
        taken=taken,
        seen_price=(seen0, seen1),
        bridged=(bridged[:, at0], bridged[:, at1]),
        price=_counted(seen0, seen1),
        quantity=quantity,
        unmeasured=unmeasured,
    )


def _counted(seen0: Floats, seen1: Floats) -> tuple[Floats, Floats]:
    """Return the prices of two days as they count; 0 where there is none on either."""
    known = ([None if each != each else each for each in seen.tolist()] for seen in (seen0, seen1))
    both = [on_both_days(then, now) for then, now in zip(*known, strict=True)]
    return (
        np.array([then or 0.0 for then, _ in both], dtype=float),
        np.array([now or 0.0 for _, now in both], dtype=float),
    )


def _measured(
    taken: tuple[DishesOnDay, DishesOnDay],
) -> tuple[tuple[sparse.csr_array, sparse.csr_array], NDArray[np.bool_]]:
    """Return the quantities without those a dish cannot tell on one of the days, and of what."""
    matrices = [each.quantities for each in taken]
    unmeasured = np.zeros(matrices[0].shape[1], dtype=bool)
    if any(np.isnan(each.data).any() for each in matrices):
        unknown = sum((_where_unknown(each) for each in matrices[1:]), _where_unknown(matrices[0]))
        rows, columns = unknown.nonzero()
        unmeasured[columns] = True
        kept = []
        for each in matrices:
            wide = each.tolil()
            wide[rows, columns] = 0.0
            kept.append(wide.tocsr())
        matrices = kept
    return (matrices[0], matrices[1]), unmeasured


def _where_unknown(matrix: sparse.csr_array) -> sparse.csr_array:
    pattern = matrix.copy()
    pattern.data = np.isnan(matrix.data).astype(float)
    pattern.eliminate_zeros()
    return pattern
