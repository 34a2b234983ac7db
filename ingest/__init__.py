"""Turns outside material into rows of the price book.

Nothing is imported until it is asked for, so that `import ingest` costs nothing.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from ingest.recipes.line import RecipeLine, read_recipe_line

_HOME = {
    "RecipeLine": "ingest.recipes.line",
    "read_recipe_line": "ingest.recipes.line",
}
__all__ = ["RecipeLine", "read_recipe_line"]


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"module 'ingest' has no attribute {name!r}")
    value = getattr(import_module(_HOME[name]), name)
    globals()[name] = value
    return value
