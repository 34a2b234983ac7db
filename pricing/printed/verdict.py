"""The two verdicts on a printed figure: was it right when it was costed, and does it hold now."""

from __future__ import annotations

from pricing.book.read import TOLERANCE_PCT

AGREES, DIFFERS = "agrees", "differs"  # with what was known when it was costed
HOLDS, STALE = "holds", "stale"  # today
CANNOT_PRICE = "cannot price"
_SNAP = 1e-9  # a figure off by the tolerance to the last digit is within it


def verdict_then(
    printed: float, known_then: float | None, tolerance_pct: float = TOLERANCE_PCT
) -> str:
    """Return whether a printed figure agrees with the cost known on the day it was costed for.

    >>> verdict_then(1.00, 1.05), verdict_then(1.00, 1.06), verdict_then(1.00, None)
    ('agrees', 'differs', 'cannot price')
    """
    if known_then is None:
        return CANNOT_PRICE
    return AGREES if _within(printed, known_then, tolerance_pct) else DIFFERS


def verdict_now(
    printed: float, recosted_now: float | None, tolerance_pct: float = TOLERANCE_PCT
) -> str:
    """Return whether a printed figure holds at the prices of the day asked about.

    >>> verdict_now(1.00, 0.95), verdict_now(1.00, 0.94), verdict_now(1.00, None)
    ('holds', 'stale', 'cannot price')
    """
    if recosted_now is None:
        return CANNOT_PRICE
    return HOLDS if _within(printed, recosted_now, tolerance_pct) else STALE


def _within(printed: float, cost: float, tolerance_pct: float) -> bool:
    allowed = printed * tolerance_pct / 100 + _SNAP
    return abs(cost - printed) <= allowed
