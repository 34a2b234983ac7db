"""Turns the lines of an invoice into lines with prices; those that are no prices are told."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from decimal import Decimal

from ingest.brought import PriceLine
from ingest.invoices.document import Invoice, InvoiceLine
from ingest.invoices.unit_codes import counts_of, pack_words
from ingest.text.sentences import counted, quoted

_MOST_NAMED = 5  # lines named in one remark


def price_lines(invoice: Invoice) -> tuple[list[PriceLine], list[str]]:
    """Return a line for each that was paid for, and remarks on the others."""
    if invoice.credit_note:
        return [], ["A credit note gives money back: none of its lines is a price."]
    paid = [line for line in invoice.lines if _was_paid_for(line)]
    remarks = _no_prices([line for line in invoice.lines if not _was_paid_for(line)])
    return [_price_line(invoice, line) for line in paid], remarks + _shares(invoice)


def _was_paid_for(line: InvoiceLine) -> bool:
    return line.quantity > 0 and line.cost is not None and line.cost > 0


def _price_line(invoice: Invoice, line: InvoiceLine) -> PriceLine:
    """Return what was paid for a line. What is counted has no pack yet: its words may state one."""
    assert line.cost is not None
    many = counts_of(line.quantity, line.unit)
    weighed = pack_words(line.quantity, line.unit) if many is None else None
    count, unit = many or (line.quantity if weighed is None else Decimal(1), None)
    item = f"item {line.item_number}" if line.item_number else ""
    gtin = f"GTIN {line.gtin}" if line.gtin else ""
    return PriceLine(
        line=line.number,
        raw=_raw(line),
        words=line.description,
        day=invoice.date,
        price=line.cost,
        currency=invoice.currency,
        count=count,
        unit=unit,
        pack=weighed,
        supplier=invoice.supplier,
        kind="invoice",
        tax_pct=line.tax_pct,
        source=f"invoice {invoice.number}, line {line.line}",
        note=", ".join(filter(None, (item, gtin))) or None,
        item_number=line.item_number,
        gtin=line.gtin,
    )


def _raw(line: InvoiceLine) -> str:
    """Return a line as it is kept beside its price."""
    out = io.StringIO()
    csv.writer(out, lineterminator="").writerow(
        [line.line, line.description, line.item_number, line.gtin, f"{line.quantity:f}", line.unit,
         f"{line.price:f}", f"{line.base_quantity:f}", f"{line.net:f}"]
    )  # fmt: skip
    return out.getvalue()


def _no_prices(lines: Sequence[InvoiceLine]) -> list[str]:
    """Say which lines are no prices: what was free, and what went back."""
    free = [line for line in lines if line.quantity >= 0 and not line.net]
    back = [line for line in lines if line not in free]
    return [
        f"{counted(len(some), 'line')} {why}, no price: {_named(some)}."
        for some, why in ((free, "free of charge"), (back, "returned or taken off"))
        if some
    ]


def _named(lines: Sequence[InvoiceLine]) -> str:
    named = [f"{quoted(line.description)} (line {line.line})" for line in lines[:_MOST_NAMED]]
    more = len(lines) - len(named)
    return ", ".join(named) + (f" and {more:,} more" if more else "")


def _shares(invoice: Invoice) -> list[str]:
    """Say what of the whole document is shared by its lines."""
    said = [
        f"{amount:f} {invoice.currency} {word}"
        for amount, word in ((invoice.allowances, "taken off"), (invoice.charges, "added"))
        if amount
    ]
    if not said:
        return []
    return [f"The whole invoice has {' and '.join(said)}: each price holds its share."]
