"""The price book and the arithmetic of dish costs: the public names.

Nothing is imported until it is asked for, so that `import pricing` costs nothing.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from pricing.book.connect import Book, open_book
    from pricing.change import compare
    from pricing.costing import cost_dish
    from pricing.errors import PortionDriftError
    from pricing.indices import rebase
    from pricing.monthly import drift, drift_points

_HOME = {
    "Book": "pricing.book.connect",
    "open_book": "pricing.book.connect",
    "compare": "pricing.change",
    "cost_dish": "pricing.costing",
    "drift": "pricing.monthly",
    "drift_points": "pricing.monthly",
    "PortionDriftError": "pricing.errors",
    "rebase": "pricing.indices",
}
__all__ = [
    "Book",
    "PortionDriftError",
    "compare",
    "cost_dish",
    "drift",
    "drift_points",
    "open_book",
    "rebase",
]


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"module 'pricing' has no attribute {name!r}")
    value = getattr(import_module(_HOME[name]), name)
    globals()[name] = value
    return value
