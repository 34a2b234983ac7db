"""Finds words for a stored amount that a new book reads as exactly that amount."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from decimal import Decimal

from pricing.book import known
from pricing.book.connect import Connection
from pricing.book.read import read_settings
from pricing.errors import MeasureRefused
from pricing.measures.read import Quantity, read_pack, read_quantity

# Other units in which an amount may be said: how many of the dimension one of them is.
_UNITS: dict[str, tuple[tuple[str, int], ...]] = {
    "g": (("g", 1), ("kg", 1000)),
    "ml": (("ml", 1), ("l", 1000)),
    "each": (("each", 1), ("dozen", 12)),
}


@dataclass(frozen=True, kw_only=True)
class Words:
    """Words for amounts: as first written wherever those still mean the same.

    They may not: an own measure called `cup` that was loaded after a price by the cup would, in a
    new book, stand before it. Such an amount is said in g, ml or each instead.
    """

    system: str  # the book's measure system
    own: dict[int, tuple[str, ...]]  # ingredient id → keys of its measures in force
    _packs: dict[tuple[int, str, Quantity], str] = field(default_factory=dict)

    def pack(self, ingredient_id: int, text: str, stored: Quantity) -> str:
        """Return `text`, or other words when a new book would read it as another amount."""
        asked = ingredient_id, text, stored
        if asked not in self._packs:
            own = self.own.get(ingredient_id, ())
            choices = [text, *(f"{number} {unit}" for number, unit in _plain(stored))]
            means = (each for each in choices if self._reads_pack(each, own, stored))
            self._packs[asked] = next(means, text)
        return self._packs[asked]

    def line(
        self, ingredient_id: int, quantity: str, unit: str, stored: Quantity
    ) -> tuple[str, str]:
        """Return `quantity` and `unit`, or others when they would be read as another amount."""
        own = self.own.get(ingredient_id, ())
        choices = [(quantity, unit), *_plain(stored)]
        means = (each for each in choices if self._reads_line(*each, own, stored))
        return next(means, (quantity, unit))

    def _reads_pack(self, text: str, own: tuple[str, ...], stored: Quantity) -> bool:
        with suppress(MeasureRefused):
            return read_pack(text, self.system, own) == stored
        return False

    def _reads_line(self, number: str, unit: str, own: tuple[str, ...], stored: Quantity) -> bool:
        with suppress(MeasureRefused):
            return read_quantity(number, unit, self.system, own) == stored
        return False


def words(con: Connection) -> Words:
    """Return the words of the open book."""
    own = {each: tuple(measures) for each, measures in known.measures(con).items()}
    return Words(system=read_settings(con).measures, own=own)


def plain(value: Decimal) -> str:
    """Return a decimal without an exponent and without idle noughts.

    >>> plain(Decimal("1.2500")), plain(Decimal("1E+3")), plain(Decimal("1E-7"))
    ('1.25', '1000', '0.0000001')
    """
    text = f"{value:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _plain(stored: Quantity) -> Iterator[tuple[str, str]]:
    if stored.measure_key is not None:
        yield plain(stored.amount), stored.measure_key
    for unit, size in _UNITS.get(stored.dimension, ()):
        yield plain(stored.amount / size), unit
