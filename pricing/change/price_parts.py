"""Splits a price effect: the sticker and the pack; what was seen and what an index moved."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from pricing.answer import Answer
from pricing.book.connect import Connection
from pricing.book.read import rows
from pricing.names import name_key
from pricing.prices.evidence import GridPrice, SeenPrice

# (ingredient id, supplier key, product key, day) → pack size in the base unit
Packs = Mapping[tuple[int, str, str, date], float]


@dataclass(frozen=True, kw_only=True)
class PriceParts(Answer):
    """Two ways to split one price effect; each pair adds up to it. Money per portion."""

    sticker: float  # the price of a pack
    pack: float  # its size, where the same product at the same supplier changed it
    seen: float  # from one observed price to the other
    bridged: float  # what official series moved them by


NO_PRICE_PARTS = PriceParts(sticker=0.0, pack=0.0, seen=0.0, bridged=0.0)


def price_parts(
    quantity_then: float, prices: tuple[GridPrice, GridPrice], smaller: float
) -> PriceParts:
    """Split a0 (u1 − u0). `smaller`: by what factor packs alone raised the unit price.

    First the price of a pack, then its size: the sticker part is what the pack of then would cost
    more today, the pack part what today's pack costs more than that for the same amount. Of each
    price, what was seen is the mean of the sources as seen, and the rest is what series moved.
    """
    u0, u1 = (price.unit_price for price in prices)
    if u0 is None or u1 is None:
        return NO_PRICE_PARTS
    old_pack = u1 / smaller  # a g, ml or each now, had the pack stayed
    seen0, seen1 = (_as_seen(price) for price in prices)
    return PriceParts(
        sticker=quantity_then * (old_pack - u0),
        pack=quantity_then * (u1 - old_pack),
        seen=quantity_then * (seen1 - seen0),
        bridged=quantity_then * ((u1 - seen1) - (u0 - seen0)),
    )


def _as_seen(price: GridPrice) -> float:
    """Return what a price is, or was moved from, with no source of it moved."""
    behind = _behind(price)
    assert price.unit_price is not None
    if price.basis == "observed" and all(seen.moved == 1 for seen in behind):
        return price.unit_price  # exactly
    return sum(seen.share * seen.unit_price for seen in behind)


def read_packs(
    con: Connection, currency: str, prices: Iterable[tuple[int, GridPrice]]
) -> dict[tuple[int, str, str, date], float]:
    """Return the pack size of every named product behind the prices of ingredients."""
    wanted = sorted(
        {(each, seen.date) for each, price in prices for seen in price.observed if seen.product}
    )
    if not wanted:
        return {}
    ids, days = zip(*wanted, strict=True)
    found = rows(
        con,
        "change/packs_seen",
        {"ingredients": list(ids), "days": list(days), "currency": currency},
    )
    return {
        (row["ingredient_id"], row["supplier_key"], row["product_key"], row["observed_on"]): row[
            "size"
        ]
        for row in found
        if row["size"] is not None
    }


def pack_factor(ingredient_id: int, prices: tuple[GridPrice, GridPrice], packs: Packs) -> float:
    """Return by what factor smaller packs raised the unit price; 1 when no pack changed.

    The geometric mean over the sources behind the two prices, each by its share in them; a source
    that cannot be compared counts as unchanged. So where one of two shops shrank its pack by a
    tenth, that moved the typical price by about half as much.
    """
    sides = [_sizes(ingredient_id, _behind(price), packs) for price in prices]
    moved = 0.0
    for each in sides[0].keys() & sides[1].keys():
        (size0, share0), (size1, share1) = sides[0][each], sides[1][each]
        moved += 0.5 * (share0 + share1) * math.log(size0 / size1)
    return math.exp(moved)


def _behind(price: GridPrice) -> tuple[SeenPrice, ...]:
    """Return the sources of the day a price was seen on, or was moved from.

    A price between two days of news lists those of the later one after the earlier one's.
    """
    whole = 0.0
    for place, seen in enumerate(price.observed, start=1):
        whole += seen.share
        if whole > 1 - 1e-9:
            return price.observed[:place]
    return price.observed


def _sizes(
    ingredient_id: int, seen: Collection[SeenPrice], packs: Packs
) -> dict[tuple[str, str], tuple[float, float]]:
    """Return the pack size and the share of each product at a supplier."""
    found = {}
    for each in seen:
        key = name_key(each.supplier or ""), name_key(each.product or "")
        size = packs.get((ingredient_id, *key, each.date))
        if size is not None:
            found[key] = size, each.share
    return found


def total_price_parts(parts: Iterable[PriceParts]) -> PriceParts:
    """Return the sums over ingredients."""
    listed = list(parts)
    names = ("sticker", "pack", "seen", "bridged")
    return PriceParts(**{name: sum(each[name] for each in listed) for name in names})
