"""Prices of the demo worked out by hand: what sources ask, and a price between two days."""

from __future__ import annotations

from datetime import date

NEWS = date(2026, 11, 14)  # the last shopping trip to the grocer
WAREHOUSE = date(2026, 11, 10)  # the last to the warehouse


def between(u0: float, u1: float, i: float, i0: float, i1: float, days: int, of: int) -> float:
    """Return a price between two days of news, on the path of an index bent to meet both.

    The bend begins when the first price is 45 days old.
    """
    return u0 * i / i0 * ((u1 / u0) / (i1 / i0)) ** ((days - 45) / (of - 45))


def mean(day: date, *sources: tuple[float, date]) -> float:
    """Return what the sources asked, each counting half as much for every 180 days of age."""
    weights = [2 ** (-(day - seen).days / 180) for _, seen in sources]
    prices = [price for price, _ in sources]
    return sum(w * p for w, p in zip(weights, prices, strict=True)) / sum(weights)


def both(grocer: float, warehouse: float) -> float:
    """Return what the grocer of the last trip and the warehouse four days before asked."""
    return mean(NEWS, (grocer, NEWS), (warehouse, WAREHOUSE))
