"""Finds packs that changed while the label stayed: the same product at the same supplier."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from pricing.answer import Answer
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import read_settings, rows


@dataclass(frozen=True, kw_only=True)
class PackChange(Answer):
    """One product before and after its pack changed. Prices of the pack, in the book's currency."""

    ingredient: str
    base: str
    supplier: str | None
    product: str
    before_on: date  # last seen in the old size
    pack_before: str  # as written
    size_before: float  # in base
    price_before: float
    after_on: date  # first seen in the new size
    pack_after: str
    size_after: float
    price_after: float

    @property
    def size_relative(self) -> float:
        """New size ÷ old size; under 1 = a smaller pack."""
        return self.size_after / self.size_before

    @property
    def sticker_relative(self) -> float:
        """New price of the pack ÷ old price of the pack."""
        return self.price_after / self.price_before

    @property
    def unit_relative(self) -> float:
        """What became of the price of a g, ml or each."""
        return self.sticker_relative / self.size_relative

    def as_json(self) -> dict[str, object]:
        relatives = ("size_relative", "sticker_relative", "unit_relative")
        return {**super().as_json(), **{each: getattr(self, each) for each in relatives}}


def packs_changed(book: Book, *, first: date, last: date) -> list[PackChange]:
    """Return the pack changes seen after `first` and on or before `last`, in order of time.

    Raises BookUnreadable.
    """
    with reading(book) as con:
        return packs_changed_in(con, None, first=first, last=last)


def packs_changed_in(
    con: Connection, ingredient_ids: Collection[int] | None, *, first: date, last: date
) -> list[PackChange]:
    """`packs_changed` of some ingredients (None: all) in an open book."""
    found = rows(
        con,
        "prices/packs_changed",
        {
            "ingredients": None if ingredient_ids is None else sorted(ingredient_ids),
            "currency": read_settings(con).currency,
            "first": first,
            "last": last,
        },
    )
    return [
        PackChange(**{name: value for name, value in row.items() if name != "ingredient_id"})
        for row in found
    ]
