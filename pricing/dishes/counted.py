"""Which dishes count in a mean: drafts never do, half-products only when they are named."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import TYPE_CHECKING

from pricing.book.connect import Connection
from pricing.book.read import rows
from pricing.clock import today

if TYPE_CHECKING:
    from pricing.dishes.matrix import Catalogue


@dataclass(frozen=True, kw_only=True)
class Counted:
    """The dishes that count, and the names of those that do not."""

    catalogue: Catalogue
    drafts: tuple[str, ...]  # no version of them has begun
    half_products: tuple[str, ...]  # other dishes take them, and they were never printed


def half_product_ids(con: Connection) -> set[int]:
    """Return the dishes that others take and that were never printed."""
    return {row["dish_id"] for row in rows(con, "dishes/half_products")}


def read_counted(con: Connection, ids: Collection[int] | None) -> Counted:
    """Read the dishes named (None: all) as far as they count; a named half-product does."""
    from pricing.dishes.matrix import read_catalogue  # numpy and scipy only when needed

    begun, drafts = read_catalogue(con, ids).without_drafts(today())
    halves = half_product_ids(con) if ids is None else ()
    catalogue, half_products = begun.without(halves)
    return Counted(catalogue=catalogue, drafts=drafts, half_products=half_products)
