"""One thing with a price, as a list, receipt or invoice has it, before anyone knows what it is."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal


@dataclass(frozen=True, kw_only=True, slots=True)
class PriceLine:
    """One thing with a price; its ingredient is not known yet."""

    line: int  # by which problems name it: the physical row of a table, from 1
    raw: str  # as written
    words: str  # its description
    day: date
    price: Decimal  # paid for `count` packs
    currency: str  # ISO 4217
    count: Decimal = Decimal(1)  # packs
    pack: str | None = None  # of one pack, where a column or a unit states it
    unit: str | None = None  # what `count` counts, where it is no pack by itself: each, box
    supplier: str | None = None
    kind: str = "receipt"  # shelf, offer, receipt, invoice, quote
    tax_pct: Decimal | None = None
    product: str | None = None
    region: str | None = None
    source: str | None = None
    note: str | None = None
    item_number: str | None = None  # the sender's
    gtin: str | None = None
