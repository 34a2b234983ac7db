"""Which two prices count between two days when one of them is not known."""

from __future__ import annotations


def on_both_days(then: float | None, now: float | None) -> tuple[float | None, float | None]:
    """Return two prices as they count: one that is known on one of the days only counts on both.

    So what could not be compared adds nothing to a change of prices.

    >>> on_both_days(None, 0.02), on_both_days(0.01, 0.03), on_both_days(None, None)
    ((0.02, 0.02), (0.01, 0.03), (None, None))
    """
    return (now if then is None else then), (then if now is None else now)
