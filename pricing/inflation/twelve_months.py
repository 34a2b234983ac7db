"""The rate over twelve months: a level against the level a year before."""

from __future__ import annotations

_YEAR = 12  # months


def year_before(at: int) -> int | None:
    """Return the place of the month a year before, in a run of months; None in the first year.

    >>> year_before(11), year_before(12)
    (None, 0)
    """
    return at - _YEAR if at >= _YEAR else None


def rate_12_pct(now: float, before: float | None) -> float | None:
    """Return the rate from a level to one a year later; None without an earlier level.

    >>> rate_12_pct(150.0, 100.0), rate_12_pct(150.0, None), rate_12_pct(150.0, 0.0)
    (50.0, None, None)
    """
    return 100 * (now / before - 1) if before else None
