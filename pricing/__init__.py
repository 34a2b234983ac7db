"""The price book and the arithmetic of dish costs: the public names.

Nothing is imported until it is asked for, so that `import pricing` costs nothing.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from pricing.book.connect import Book, open_book
    from pricing.change import compare
    from pricing.claims import check_claims
    from pricing.costing import cost_dish
    from pricing.drivers import rank_drivers
    from pricing.errors import PortionDriftError
    from pricing.indices import rebase
    from pricing.inflation import measure_inflation
    from pricing.monthly import drift, drift_points
    from pricing.publish import record_claim
    from pricing.swap_catalogue import catalogue_swaps
    from pricing.swaps import find_swaps
    from pricing.till import shop_for
    from pricing.what_we_said import said_and_known

_HOME = {
    "Book": "pricing.book.connect",
    "open_book": "pricing.book.connect",
    "catalogue_swaps": "pricing.swap_catalogue",
    "check_claims": "pricing.claims",
    "compare": "pricing.change",
    "cost_dish": "pricing.costing",
    "drift": "pricing.monthly",
    "drift_points": "pricing.monthly",
    "find_swaps": "pricing.swaps",
    "measure_inflation": "pricing.inflation",
    "PortionDriftError": "pricing.errors",
    "rank_drivers": "pricing.drivers",
    "rebase": "pricing.indices",
    "record_claim": "pricing.publish",
    "said_and_known": "pricing.what_we_said",
    "shop_for": "pricing.till",
}
__all__ = [
    "Book",
    "PortionDriftError",
    "catalogue_swaps",
    "check_claims",
    "compare",
    "cost_dish",
    "drift",
    "drift_points",
    "find_swaps",
    "measure_inflation",
    "open_book",
    "rank_drivers",
    "rebase",
    "record_claim",
    "said_and_known",
    "shop_for",
]


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"module 'pricing' has no attribute {name!r}")
    value = getattr(import_module(_HOME[name]), name)
    globals()[name] = value
    return value
