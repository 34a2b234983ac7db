"""An invoice or credit note as its document states it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from pricing.answer import plain


@dataclass(frozen=True, kw_only=True)
class Vat:
    """What value added tax is taken on an amount."""

    category: str | None  # code of UNTDID 5305: S standard, Z zero, E exempt …
    percent: Decimal  # 0 where none is stated


@dataclass(frozen=True, kw_only=True)
class InvoiceLine:
    """One line. Money without tax in the document's currency; a credit note's is negative."""

    number: int  # by which problems name it; see elements.line_numbers
    line: str  # its number, as written
    description: str
    item_number: str | None  # the seller's
    gtin: str | None  # with a right check digit
    quantity: Decimal  # in `unit`
    unit: str  # code of UN/ECE Recommendation 20
    price: Decimal  # of `base_quantity` units, before the line's allowances and charges
    base_quantity: Decimal
    allowances: Decimal  # of this line: less to pay
    charges: Decimal  # of this line: more to pay
    net: Decimal  # of the line, with its own allowances and charges
    vat: Vat
    cost: Decimal | None = None  # `net` with its share of the document's allowances and charges
    tax_pct: Decimal | None = None  # added to `cost` to reach what is paid

    def as_json(self) -> dict[str, Any]:
        """Return the keys of a line in the answer of `load --json`."""
        return {key: plain(getattr(self, key)) for key in _OF_A_LINE}


@dataclass(frozen=True, kw_only=True)
class SharedAmount:
    """An allowance or charge of the whole document."""

    amount: Decimal  # a charge is over 0, an allowance under 0; in a credit note the other way
    charge: bool
    vat: Vat


@dataclass(frozen=True, kw_only=True)
class Invoice:
    """A document. Money in its currency, as written; a credit note's is negative."""

    number: str
    date: date
    supplier: str  # the seller's name
    currency: str  # ISO 4217
    credit_note: bool
    lines_net: Decimal  # sum of the lines
    allowances: Decimal  # of the whole document
    charges: Decimal
    net: Decimal  # lines − allowances + charges
    tax: Decimal
    total: Decimal  # net + tax
    payable: Decimal  # total less what was paid before
    lines: tuple[InvoiceLine, ...]
    shared: tuple[SharedAmount, ...]
    remarks: tuple[str, ...]  # what was left out or is odd, in sentences

    def as_json(self) -> dict[str, Any]:
        """Return the keys of `document` in the answer of `load --json`."""
        told = {key: plain(getattr(self, key)) for key in _OF_A_DOCUMENT}
        return {**told, "lines": [line.as_json() for line in self.lines]}


_OF_A_DOCUMENT = (
    "number", "date", "supplier", "currency", "credit_note", "lines_net", "allowances", "charges",
    "net", "tax", "total", "payable",
)  # fmt: skip
_OF_A_LINE = (
    "line", "description", "item_number", "gtin", "quantity", "unit", "price", "base_quantity",
    "allowances", "charges", "net", "cost", "tax_pct",
)  # fmt: skip
