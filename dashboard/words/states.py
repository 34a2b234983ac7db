"""Names for what charts tell apart: kinds of evidence, parts of a change, kinds of index."""

from __future__ import annotations

SEEN = "mostly from prices seen"


MOVED = "mostly moved by an official index"


AT_LEAST = "at least: a price is missing"


STATES = (SEEN, MOVED, AT_LEAST)  # from the strongest to the weakest


def state_of(complete: bool, share_bridged: float | None) -> str:
    """Return which of the three states a month's figure is in.

    >>> state_of(True, 0.2), state_of(True, 0.7), state_of(False, 0.0)
    ('mostly from prices seen', 'mostly moved by an official index', 'at least: a price is missing')
    """
    if not complete or share_bridged is None:
        return AT_LEAST
    return MOVED if share_bridged > 0.5 else SEEN


TYPICAL_SEEN = "typical price, from prices seen"


TYPICAL_MOVED = "typical price, moved by the series"


OWN = "this kitchen"


FOOD = "food prices"


ALL = "all items"


TOTAL = "cost of a portion"


PRICE = "prices"


RECIPE = "recipe"


KINDS = (TOTAL, PRICE, RECIPE)


BY_PRICE = "by price"


BY_RECIPE = "by recipe"


PARTS = (BY_PRICE, BY_RECIPE)
