"""The price book and the arithmetic of dish costs: the public names.

Nothing is imported until it is asked for, so that `import pricing` costs nothing.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from pricing.ahead.outlook import outlook
    from pricing.bench.side_by_side import side_by_side
    from pricing.book.connect import Book, open_book
    from pricing.change.compare import compare
    from pricing.change.drivers import rank_drivers
    from pricing.dishes.cost import cost_dish
    from pricing.dishes.drift import drift, drift_points
    from pricing.dishes.on_a_day import cost_dishes
    from pricing.errors import PortionDriftError
    from pricing.frames import (
        cost_all,
        dishes_frame,
        ingredients_frame,
        prices_frame,
        printed_frame,
    )
    from pricing.inflation.measure import measure_inflation
    from pricing.printed.check import check_printed
    from pricing.printed.publish import record_printed
    from pricing.printed.said_and_known import said_and_known
    from pricing.reprint.round import reprint_round
    from pricing.series.rebase import rebase
    from pricing.swaps.of_catalogue import catalogue_swaps
    from pricing.swaps.of_dish import find_swaps
    from pricing.till.shop import shop_for

_HOME = {
    "prices_frame": "pricing.frames",
    "dishes_frame": "pricing.frames",
    "ingredients_frame": "pricing.frames",
    "printed_frame": "pricing.frames",
    "cost_all": "pricing.frames",
    "load_frame": "ingest.frames",  # by name: nothing here imports ingest
    "Book": "pricing.book.connect",
    "open_book": "pricing.book.connect",
    "catalogue_swaps": "pricing.swaps.of_catalogue",
    "check_printed": "pricing.printed.check",
    "compare": "pricing.change.compare",
    "cost_dish": "pricing.dishes.cost",
    "cost_dishes": "pricing.dishes.on_a_day",
    "drift": "pricing.dishes.drift",
    "drift_points": "pricing.dishes.drift",
    "find_swaps": "pricing.swaps.of_dish",
    "measure_inflation": "pricing.inflation.measure",
    "outlook": "pricing.ahead.outlook",
    "PortionDriftError": "pricing.errors",
    "rank_drivers": "pricing.change.drivers",
    "rebase": "pricing.series.rebase",
    "record_printed": "pricing.printed.publish",
    "reprint_round": "pricing.reprint.round",
    "said_and_known": "pricing.printed.said_and_known",
    "shop_for": "pricing.till.shop",
    "side_by_side": "pricing.bench.side_by_side",
}
__all__ = [
    "Book",
    "PortionDriftError",
    "catalogue_swaps",
    "check_printed",
    "compare",
    "cost_all",
    "cost_dish",
    "cost_dishes",
    "dishes_frame",
    "drift",
    "drift_points",
    "find_swaps",
    "ingredients_frame",
    "load_frame",
    "measure_inflation",
    "open_book",
    "outlook",
    "prices_frame",
    "printed_frame",
    "rank_drivers",
    "rebase",
    "record_printed",
    "reprint_round",
    "said_and_known",
    "shop_for",
    "side_by_side",
]


# The documented names of frames: three are packages, which can be called; one is a function.
_FRAMES = {"prices", "dishes", "printed"}


def __getattr__(name: str) -> Any:
    if name in _FRAMES:
        return import_module(f"pricing.{name}")
    if name == "ingredients":
        return __getattr__("ingredients_frame")
    if name not in _HOME:
        raise AttributeError(f"module 'pricing' has no attribute {name!r}")
    value = getattr(import_module(_HOME[name]), name)
    globals()[name] = value
    return value
