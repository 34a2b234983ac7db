"""Price index formulas between two dates.

Prices and quantities are arrays over the same items, prices above 0. `p0, q0` are of the earlier
date, `p1, q1` of the later. Formulas: Balk, *Price and Quantity Index Numbers* (2008), ch. 3.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
Formula = Callable[[ArrayLike, ArrayLike, ArrayLike, ArrayLike], float]


def _arrays(*given: ArrayLike) -> list[Floats]:
    return [np.asarray(each, dtype=float) for each in given]


def _shares(p: Floats, q: Floats) -> Floats:
    value = p * q
    return np.asarray(value / value.sum())


def log_mean(a: ArrayLike, b: ArrayLike) -> Floats:
    """Return the logarithmic mean (a − b) ÷ (ln a − ln b), a where both are equal.

    >>> float(log_mean(1.0, 1.0)), round(float(log_mean(2.0, 1.0)), 6)
    (1.0, 1.442695)
    """
    x, y = np.broadcast_arrays(*_arrays(a, b))
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = np.log(x / y)
        mean = (x - y) / ratio
    near = np.isclose(x, y, rtol=1e-9, atol=0)
    return np.asarray(np.where(near, (x + y) / 2, np.where((x > 0) & (y > 0), mean, 0.0)))


def lowe(p0: ArrayLike, p1: ArrayLike, basket: ArrayLike) -> float:
    """Return what a fixed basket costs later ÷ earlier.

    >>> lowe([1, 2], [2, 2], [1, 1])
    1.3333333333333333
    """
    before, after, q = _arrays(p0, p1, basket)
    return float((after @ q) / (before @ q))


def laspeyres(p0: ArrayLike, q0: ArrayLike, p1: ArrayLike, q1: ArrayLike) -> float:
    """Return the cost of the earlier basket."""
    return lowe(p0, p1, q0)


def paasche(p0: ArrayLike, q0: ArrayLike, p1: ArrayLike, q1: ArrayLike) -> float:
    """Return the cost of the later basket."""
    return lowe(p0, p1, q1)


def fisher(p0: ArrayLike, q0: ArrayLike, p1: ArrayLike, q1: ArrayLike) -> float:
    """Return the geometric mean of Laspeyres and Paasche."""
    return float(np.sqrt(laspeyres(p0, q0, p1, q1) * paasche(p0, q0, p1, q1)))


def walsh(p0: ArrayLike, q0: ArrayLike, p1: ArrayLike, q1: ArrayLike) -> float:
    """Return the cost of a basket between: √(q0·q1)."""
    return lowe(p0, p1, np.sqrt(np.multiply(*_arrays(q0, q1))))


def marshall_edgeworth(p0: ArrayLike, q0: ArrayLike, p1: ArrayLike, q1: ArrayLike) -> float:
    """Return the cost of both baskets together."""
    return lowe(p0, p1, np.add(*_arrays(q0, q1)))


def tornqvist(p0: ArrayLike, q0: ArrayLike, p1: ArrayLike, q1: ArrayLike) -> float:
    """Return the geometric mean of the relatives, weighted by the mean of both dates' shares."""
    a, b, c, d = _arrays(p0, q0, p1, q1)
    return _geometric(c / a, (_shares(a, b) + _shares(c, d)) / 2)


def geometric_laspeyres(p0: ArrayLike, q0: ArrayLike, p1: ArrayLike, q1: ArrayLike) -> float:
    """Return the geometric mean of the relatives, weighted by the earlier shares."""
    a, b, c, _ = _arrays(p0, q0, p1, q1)
    return _geometric(c / a, _shares(a, b))


def geometric_paasche(p0: ArrayLike, q0: ArrayLike, p1: ArrayLike, q1: ArrayLike) -> float:
    """Return the geometric mean of the relatives, weighted by the later shares."""
    a, _, c, d = _arrays(p0, q0, p1, q1)
    return _geometric(c / a, _shares(c, d))


def harmonic_laspeyres(p0: ArrayLike, q0: ArrayLike, p1: ArrayLike, q1: ArrayLike) -> float:
    """Return the harmonic mean of the relatives, weighted by the earlier shares."""
    a, b, c, _ = _arrays(p0, q0, p1, q1)
    return float(1 / (_shares(a, b) @ (a / c)))


def palgrave(p0: ArrayLike, q0: ArrayLike, p1: ArrayLike, q1: ArrayLike) -> float:
    """Return the arithmetic mean of the relatives, weighted by the later shares."""
    a, _, c, d = _arrays(p0, q0, p1, q1)
    return float(_shares(c, d) @ (c / a))


def vartia_1(p0: ArrayLike, q0: ArrayLike, p1: ArrayLike, q1: ArrayLike) -> float:
    """Return Vartia's first: log means of the items' values ÷ that of the totals as weights."""
    a, b, c, d = _arrays(p0, q0, p1, q1)
    weights = log_mean(c * d, a * b) / log_mean((c * d).sum(), (a * b).sum())
    return float(np.exp(weights @ np.log(c / a)))


def vartia_2(p0: ArrayLike, q0: ArrayLike, p1: ArrayLike, q1: ArrayLike) -> float:
    """Return Vartia's second (Sato–Vartia): log means of the shares, scaled to 1, as weights."""
    a, b, c, d = _arrays(p0, q0, p1, q1)
    weights = log_mean(_shares(c, d), _shares(a, b))
    return _geometric(c / a, weights / weights.sum())


def stuvel(p0: ArrayLike, q0: ArrayLike, p1: ArrayLike, q1: ArrayLike) -> float:
    """Return Stuvel's: price and quantity index are the Laspeyres ones moved by the same amount."""
    a, b, c, d = _arrays(p0, q0, p1, q1)
    half = (laspeyres(a, b, c, d) - float((a @ d) / (a @ b))) / 2
    return float(half + np.sqrt(half**2 + (c @ d) / (a @ b)))


def _geometric(relatives: Floats, weights: Floats) -> float:
    return float(np.exp(weights @ np.log(relatives)))


BY_TWO_BASKETS: dict[str, Formula] = {
    "laspeyres": laspeyres,
    "paasche": paasche,
    "fisher": fisher,
    "tornqvist": tornqvist,
    "walsh": walsh,
    "marshall_edgeworth": marshall_edgeworth,
    "geometric_laspeyres": geometric_laspeyres,
    "geometric_paasche": geometric_paasche,
    "harmonic_laspeyres": harmonic_laspeyres,
    "palgrave": palgrave,
    "vartia_1": vartia_1,
    "vartia_2": vartia_2,
    "stuvel": stuvel,
}
