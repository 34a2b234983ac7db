"""Names for what charts tell apart: kinds of evidence, parts of a change, kinds of index."""

from __future__ import annotations

from dashboard.words.evidence import MOVED

MOSTLY_SEEN = "mostly from prices seen"
MOSTLY_MOVED = f"mostly {MOVED}"
AT_LEAST = "at least: a price is missing"
STATES = (MOSTLY_SEEN, MOSTLY_MOVED, AT_LEAST)  # from the strongest to the weakest

TYPICAL_SEEN = "typical price, seen"  # short: they stand in a legend that fits a phone
TYPICAL_MOVED = "typical price, estimated"

# indices of the page of the kitchen's own inflation
OWN = "this kitchen"
FOOD = "food prices"
ALL = "all items"

# bars of the waterfall
TOTAL = "cost of a portion"
PRICE = "prices"
RECIPE = "recipe"
KINDS = (TOTAL, PRICE, RECIPE)

# bars of the drivers
BY_PRICE = "by price"
BY_RECIPE = "by recipe"
PARTS = (BY_PRICE, BY_RECIPE)


def state_of(complete: bool, share_bridged: float | None) -> str:
    """Return which of the three states a month's figure is in.

    >>> state_of(True, 0.2), state_of(True, 0.7)
    ('mostly from prices seen', 'mostly estimated from official prices')
    """
    if not complete or share_bridged is None:
        return AT_LEAST
    return MOSTLY_MOVED if share_bridged > 0.5 else MOSTLY_SEEN
