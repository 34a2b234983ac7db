"""How one sender lays its tables out: what was found or answered once, and is used again."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass

from ingest.tables.table import Table
from ingest.text.fold import fold

MEANINGS = (
    "date", "words", "ingredient", "item_number", "gtin", "count", "unit", "pack", "price",
    "unit_price", "total", "currency", "tax_pct", "supplier", "kind", "product", "region", "note",
    "dish", "version", "amount", "published_on", "month", "where", "yield_pct", "trim_pct",
    "pack_unit", "ignored",
)  # fmt: skip
PRICE_KINDS = ("shelf", "offer", "receipt", "invoice", "quote")
_DECIMALS = {".": "point", ",": "comma"}


@dataclass(frozen=True, kw_only=True)
class Layout:
    """What the columns of a table hold, and how its dates, numbers and prices are meant."""

    fingerprint: str  # of its headings; the header is the row that has it, wherever it stands
    sender: str | None  # who writes such tables; the supplier where no column names one
    kind: str  # of file: prices or printed; costed: one dish's costed lines, a file of printed
    columns: tuple[tuple[str, str], ...]  # heading, one of MEANINGS; the others are not read
    date_order: str  # day-first, month-first, year-first; "" while none was needed
    decimal: str  # "." or ","; "" while none was seen
    currency: str | None  # ISO 4217; None where a column says it
    tax: str  # net (tax comes on top), gross, "" where nothing says it
    tax_rate: str | None = None  # per cent, where a heading says it or it was told
    price_kind: str | None = None  # of PRICE_KINDS; None where a column says it
    # "1 kg": what unit prices are for, where neither heading nor column says it
    unit: str | None = None
    state: str | None = None  # as_purchased or edible: what the quantities of costed lines are
    quantity_of: str | None = None  # one portion or the batch, where a cost is that of a portion
    day_from: str = "column"  # column, banner (above the table), told (asked for with each file)
    sheet: str = ""

    def heading_of(self, meaning: str) -> str | None:
        """Return the heading of the column with this meaning, or None."""
        return next((heading for heading, held in self.columns if held == meaning), None)

    def places(self, table: Table) -> dict[str, int]:
        """Return meaning → the place of its column in a table of this layout."""
        named = {fold(heading): place for place, heading in enumerate(table.headings)}
        return {
            meaning: named[fold(heading)]
            for heading, meaning in self.columns
            if meaning != "ignored" and fold(heading) in named
        }

    def as_told(self) -> dict[str, str]:
        """Return the answers that lead to this layout, by name."""
        told = {f"column {heading}": meaning for heading, meaning in self.columns}
        told |= {
            "date": self.date_order, "decimal": _DECIMALS.get(self.decimal, ""),
            "currency": self.currency or "", "tax": self.tax, "tax_rate": self.tax_rate or "",
            "kind": self.price_kind or "", "unit": self.unit or "", "price for": "one pack",
            "state": self.state or "", "quantity of": self.quantity_of or "",
        }  # fmt: skip
        kept = {name: answer for name, answer in told.items() if answer}
        return kept if self.sender is None else kept | {"sender": self.sender}

    def to_json(self) -> str:
        """Return the layout as text."""
        return json.dumps(asdict(self), ensure_ascii=False, sort_keys=True)

    @classmethod
    def from_json(cls, text: str) -> Layout:
        """Return the layout that `to_json` wrote."""
        kept = json.loads(text)
        kept["columns"] = tuple((heading, meaning) for heading, meaning in kept["columns"])
        return cls(**kept)
