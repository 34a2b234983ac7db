"""Lets a package of `pricing` be called: `pricing.prices(book)` is the frame of that name.

Python keeps an imported package as an attribute of the one above, so that a function of its name
would last until the first import from it. The package answers itself; a module may have a class
of its own (Python's reference, "Customizing module attribute access").
"""

from __future__ import annotations

import sys
from importlib import import_module
from types import ModuleType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import pandas as pd


class _AnswersWithAFrame(ModuleType):
    def __call__(self, book: Any) -> pd.DataFrame:
        """Return what of that name is in force in the book: see pricing/frames.py."""
        name = self.__name__.rpartition(".")[2]
        frame: pd.DataFrame = getattr(import_module("pricing.frames"), f"{name}_frame")(book)
        return frame


def answers_with_a_frame(package: str) -> None:
    """Let the package of this full name be called with a book."""
    sys.modules[package].__class__ = _AnswersWithAFrame
