"""What each item adds to an index: parts that add up to the index minus 1."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from pricing.inflation.formulas import fisher, jevons, laspeyres, log_mean, paasche

Floats = NDArray[np.float64]


def fixed_basket(p0: ArrayLike, p1: ArrayLike, basket: ArrayLike) -> Floats:
    """Return q(p1 − p0) ÷ Σ q·p0 of each item: the parts of a Lowe index, exact without a rest.

    >>> fixed_basket([1, 2], [2, 2], [1, 1]).round(6).tolist()
    [0.333333, 0.0]
    """
    before, after, q = (np.asarray(each, dtype=float) for each in (p0, p1, basket))
    return np.asarray(q * (after - before) / (q @ before))


def of_jevons(p0: ArrayLike, p1: ArrayLike) -> Floats:
    """Return the parts of a Jevons index: relatives minus 1, weighted by 1 ÷ log mean with it.

    Source: Balk (2008) sect. 4.2.1, a geometric mean as an arithmetic one.
    """
    relatives = np.asarray(p1, dtype=float) / np.asarray(p0, dtype=float)
    weights = _as_arithmetic(relatives, np.ones_like(relatives), jevons(p0, p1))
    return np.asarray(weights * (relatives - 1))


def of_fisher(p0: ArrayLike, q0: ArrayLike, p1: ArrayLike, q1: ArrayLike) -> Floats:
    """Return the parts of a Fisher index after van IJzeren: those of the basket q0 + q1 ÷ Q.

    Q is the Fisher quantity index. Source: Balk (2008) sect. 4.2.2.
    """
    quantity = fisher(q0, p0, q1, p1)
    basket = np.asarray(q0, dtype=float) + np.asarray(q1, dtype=float) / quantity
    return fixed_basket(p0, p1, basket)


def of_fisher_by_diewert(p0: ArrayLike, q0: ArrayLike, p1: ArrayLike, q1: ArrayLike) -> Floats:
    """Return the parts of a Fisher index after Diewert (2002).

    Source: Reinsdorf, Diewert and Ehemann, *J. Econ. Soc. Meas.* 28 (2002) 51–61, sect. 2.
    """
    relatives, early, hybrid = _fisher_weights(p0, q0, p1, q1)
    whole = fisher(p0, q0, p1, q1)
    weights = (early + laspeyres(p0, q0, p1, q1) * hybrid) / (1 + whole)
    return np.asarray(weights * (relatives - 1))


def of_fisher_by_reinsdorf(p0: ArrayLike, q0: ArrayLike, p1: ArrayLike, q1: ArrayLike) -> Floats:
    """Return the parts of a Fisher index seen as a geometric mean of the relatives.

    Its weights are the mean of those under which Laspeyres and Paasche are geometric means.
    Source: Reinsdorf, Diewert and Ehemann (2002), sect. 6.
    """
    relatives, early, hybrid = _fisher_weights(p0, q0, p1, q1)
    weights = (
        _as_geometric(relatives, early, laspeyres(p0, q0, p1, q1))
        + _as_geometric(relatives, hybrid, paasche(p0, q0, p1, q1))
    ) / 2
    moved = _as_arithmetic(relatives, weights, fisher(p0, q0, p1, q1))
    return np.asarray(moved * (relatives - 1))


def _fisher_weights(
    p0: ArrayLike, q0: ArrayLike, p1: ArrayLike, q1: ArrayLike
) -> tuple[Floats, Floats, Floats]:
    """Return the relatives, the earlier shares, and the later basket's shares at earlier prices."""
    a, b, c, d = (np.asarray(each, dtype=float) for each in (p0, q0, p1, q1))
    return c / a, a * b / (a @ b), a * d / (a @ d)


def _as_arithmetic(relatives: Floats, weights: Floats, mean: float) -> Floats:
    """Return the weights under which the arithmetic mean is the geometric `mean`."""
    moved = weights / log_mean(relatives, mean)
    return np.asarray(moved / moved.sum())


def _as_geometric(relatives: Floats, weights: Floats, mean: float) -> Floats:
    """Return the weights under which the geometric mean is the arithmetic `mean`."""
    moved = weights * log_mean(relatives, mean)
    return np.asarray(moved / moved.sum())
