"""How names of ingredients, dishes, suppliers, products and measures are compared and found."""

from __future__ import annotations

import difflib
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from typing import TypeVar

from pricing.errors import UnknownName

Thing = TypeVar("Thing")


def name_key(name: str) -> str:
    """Return the form under which names compare: NFC, spaces and case folded.

    >>> name_key("  Crème   FRAÎCHE ") == name_key("crème fraîche")
    True
    """
    folded = unicodedata.normalize("NFC", " ".join(name.split())).casefold()
    return unicodedata.normalize("NFC", folded)


def nearest(name: str, known: Iterable[str], most: int = 3) -> list[str]:
    """Return up to `most` known names that look like `name`, nearest first."""
    by_key = {name_key(each): each for each in known}
    close = difflib.get_close_matches(name_key(name), list(by_key), n=most, cutoff=0.6)
    return [by_key[key] for key in close]


def find(
    name: str,
    known: Mapping[str, Thing],
    *,
    kind: str,
    remedy: str = "",
    compared: Callable[[str], str] = name_key,
) -> Thing:
    """Return what goes by `name` among the known; two names are one when they compare alike.

    Raises UnknownName with the nearest names; `kind` and `remedy` are words of its sentence.

    >>> find("Leek ", {"leek": 3, "barley": 4}, kind="ingredient")
    3
    """
    key = compared(name)
    for written, thing in known.items():
        if compared(written) == key:
            return thing
    raise UnknownName(kind, name, nearest(name, known), remedy)
