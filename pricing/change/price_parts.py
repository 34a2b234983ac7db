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
    quantities: tuple[float, float], prices: tuple[GridPrice, GridPrice], smaller: float
) -> PriceParts:
    """Split ½(a0+a1)(u1−u0). `smaller`: by what factor packs alone raised the unit price.

    A unit price is sticker × (1 ÷ pack); both changes are weighted by the mean of the other at the
    two ends (Bennet), so the parts add up. A bridged price is its anchor, an observed price, and
    the rest is what the series moved.
    """
    u0, u1 = (price.unit_price for price in prices)
    if u0 is None or u1 is None:
        return NO_PRICE_PARTS
    mean = 0.5 * sum(quantities)
    sticker1 = u1 / smaller  # what the pack of then would cost now
    anchor0, anchor1 = (_anchor(price) for price in prices)
    return PriceParts(
        sticker=mean * 0.5 * (1 + smaller) * (sticker1 - u0),
        pack=mean * 0.5 * (u0 + sticker1) * (smaller - 1),
        seen=mean * (anchor1 - anchor0),
        bridged=mean * ((u1 - anchor1) - (u0 - anchor0)),
    )


def _anchor(price: GridPrice) -> float:
    """Return the observed price that a price is, or was moved from."""
    assert price.unit_price is not None
    return price.unit_price / price.factor if price.factor else price.unit_price


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

    The geometric mean over the streams behind the two prices, a stream that cannot be compared
    counting as unchanged: where one of two shops shrank its pack by a tenth, that moved the
    typical price by about half as much.
    """
    sides = [_sizes(ingredient_id, _behind(price), packs) for price in prices]
    counts = [len(_behind(price)) for price in prices]
    both = sides[0].keys() & sides[1].keys()
    if not both:
        return 1.0
    moved = sum(math.log(sides[0][each] / sides[1][each]) for each in both)
    return math.exp(moved / (sum(counts) / 2))


def _behind(price: GridPrice) -> list[SeenPrice]:
    """Return the stream prices of the day a price was seen on, or was moved from."""
    before = [seen for seen in price.observed if seen.date <= price.on_date]
    return before or list(price.observed)


def _sizes(
    ingredient_id: int, seen: Collection[SeenPrice], packs: Packs
) -> dict[tuple[str, str], float]:
    found = {}
    for each in seen:
        key = name_key(each.supplier or ""), name_key(each.product or "")
        size = packs.get((ingredient_id, *key, each.date))
        if size is not None:
            found[key] = size
    return found


def total_price_parts(parts: Iterable[PriceParts]) -> PriceParts:
    """Return the sums over ingredients."""
    listed = list(parts)
    names = ("sticker", "pack", "seen", "bridged")
    return PriceParts(**{name: sum(each[name] for each in listed) for name in names})
