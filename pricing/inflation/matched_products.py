"""Price relatives of ingredients over the same products at the same suppliers (Jevons)."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

import numpy as np
from numpy.typing import NDArray

from pricing.inflation.records import Matched

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


def matched_relatives(prices: Floats, ingredient_of: Ints, many: int) -> list[Matched]:
    """Return the relatives of `many` ingredients from the first day to the last.

    `prices` is [source][day], NaN where a source has no fresh price; `ingredient_of` gives each
    source's ingredient, from 0. The direct relative (Jevons) compares the sources priced on both
    ends. The chained one multiplies the Jevons relatives from day to day, so that a shop that came
    or went is used while it was there; it is given only where every link has a matched source.
    Over an unchanging set of sources both are equal: Jevons does not drift when chained (Carli
    would: CPI Manual 2004, table 9.1).
    """
    logs = np.log(prices)
    direct, sources = _mean(logs[:, -1:] - logs[:, :1], ingredient_of, many)
    steps, matched = _mean(np.diff(logs, axis=1), ingredient_of, many)
    lacking = (matched == 0).sum(axis=1)
    chain = np.exp(np.nansum(steps, axis=1))
    return [
        Matched(
            sources=int(sources[i, 0]),
            relative=float(np.exp(direct[i, 0])) if sources[i, 0] else None,
            chained=float(chain[i]) if lacking[i] == 0 else None,
            links_missing=int(lacking[i]),
        )
        for i in range(many)
    ]


def _mean(changes: Floats, ingredient_of: Ints, many: int) -> tuple[Floats, Ints]:
    """Return mean (NaN = none) and number of the known changes, [ingredient][step]."""
    known = ~np.isnan(changes)
    total = np.zeros((many, changes.shape[1]))
    count = np.zeros((many, changes.shape[1]), dtype=np.int64)
    np.add.at(total, ingredient_of, np.where(known, changes, 0.0))
    np.add.at(count, ingredient_of, known.astype(np.int64))
    with np.errstate(invalid="ignore"):
        return np.where(count > 0, total / np.maximum(count, 1), np.nan), count


def by_source(columns: dict[str, Any], days: Sequence[date]) -> tuple[Floats, Ints]:
    """Return `prices.rule.source_columns` as prices [source][day], and the sources' ingredients."""
    _, first, row = np.unique(columns["source_id"], return_index=True, return_inverse=True)
    asked = np.array(days, dtype="datetime64[D]")
    column = np.searchsorted(asked, columns["on_date"].astype("datetime64[D]"))
    prices = np.full((len(first), len(days)), np.nan)
    prices[row, column] = columns["unit_price"]
    return prices, columns["ingredient_id"][first].astype(np.int64)
