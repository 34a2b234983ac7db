"""Turns the lines of an invoice into rows of a prices file; those that are no prices are told."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass, field

from ingest.invoices.document import Invoice, InvoiceLine
from ingest.invoices.unit_codes import pack_words, package_of
from ingest.kinds.kitchen import Kitchen
from ingest.kinds.pack_reader import PackReader
from ingest.text.csv_text import RawRow, Sheet
from ingest.text.read_file import ReadFile, read_columns
from ingest.text.rows import Row
from ingest.text.sentences import counted, quoted
from pricing.errors import MeasureRefused, Problem

COLUMNS = (
    "ingredient", "date", "price", "currency", "pack", "supplier", "kind", "tax_pct", "product",
    "source", "note",
)  # fmt: skip
_MOST_NAMED = 5  # lines named in one remark
_ADD_ALIAS = (
    "Add these words, or the seller's item number, as an alias of an ingredient in an ingredients "
    "file, or load the ingredient first."
)


@dataclass(kw_only=True)
class PriceLines:
    """What became of an invoice's lines."""

    read: ReadFile | None  # the rows of its prices; None where no line is a price
    waiting: int = 0  # lines that no ingredient goes by
    remarks: list[str] = field(default_factory=list)


def price_lines(invoice: Invoice, kitchen: Kitchen) -> PriceLines:
    """Return a row for each line that was paid for, and a problem for each that cannot be one."""
    if invoice.credit_note:
        return PriceLines(
            read=None, remarks=["A credit note gives money back: none of its lines is a price."]
        )
    paid = {line.number: line for line in invoice.lines if _was_paid_for(line)}
    remarks = _no_prices([line for line in invoice.lines if not _was_paid_for(line)])
    remarks += _shares(invoice)
    if not paid:
        return PriceLines(read=None, remarks=remarks)
    read = read_columns("prices", _sheet(invoice, paid, kitchen))
    if not isinstance(read, ReadFile):  # our own heading is one that can be read
        raise TypeError(read)
    packs = PackReader(kitchen)
    rows, problems, waiting = [], list(read.problems), 0
    for row in read.rows:
        line = paid[row.line]
        found = [*_unmatched(row, line, kitchen), *_unit_refused(row, line, packs, kitchen)]
        waiting += any(each.column == "ingredient" for each in found)
        problems += found
        if not found:
            rows.append(row)
    kept = ReadFile(sheet=read.sheet, heading=read.heading, rows=rows, problems=problems)
    return PriceLines(read=kept, waiting=waiting, remarks=remarks)


def _was_paid_for(line: InvoiceLine) -> bool:
    return line.quantity > 0 and line.cost is not None and line.cost > 0


def _sheet(invoice: Invoice, paid: dict[int, InvoiceLine], kitchen: Kitchen) -> Sheet:
    return Sheet(
        header=_raw(1, COLUMNS),
        rows=tuple(_raw(number, _cells(invoice, line, kitchen)) for number, line in paid.items()),
    )


def _cells(invoice: Invoice, line: InvoiceLine, kitchen: Kitchen) -> Sequence[str]:
    """Return a line as the cells of COLUMNS."""
    item = f"item {line.item_number}" if line.item_number else ""
    gtin = f"GTIN {line.gtin}" if line.gtin else ""
    return (
        _name(line, kitchen) or line.description,
        invoice.date.isoformat(),
        f"{line.cost:f}",
        invoice.currency,
        pack_words(line.quantity, line.unit) or f"{line.quantity:f} {line.unit}",
        invoice.supplier,
        "invoice",
        f"{line.tax_pct:f}",
        line.description,
        f"invoice {invoice.number}, line {line.line}",
        ", ".join(filter(None, (item, gtin))),
    )


def _name(line: InvoiceLine, kitchen: Kitchen) -> str | None:
    """Return the name by which the book knows a line: its description, or the item number."""
    for name in (line.description, line.item_number):
        if name and kitchen.find(name) is not None:
            return name
    return None


def _unmatched(row: Row, line: InvoiceLine, kitchen: Kitchen) -> list[Problem]:
    if _name(line, kitchen) is not None:
        return []
    return [kitchen.unknown_ingredient(row, "ingredient", line.description, _ADD_ALIAS)]


def _unit_refused(
    row: Row, line: InvoiceLine, packs: PackReader, kitchen: Kitchen
) -> list[Problem]:
    if pack_words(line.quantity, line.unit) is None:
        return [
            row.problem(
                "pack",
                f"the unit {quoted(line.unit)} of {quoted(line.description)}",
                "a code of UN/ECE Recommendation 20 for a weight, a volume or a count, such as KGM",
                "A service has no pack. If it is food, log its price by hand.",
            )
        ]
    package, name = package_of(line.unit), _name(line, kitchen)
    ingredient = None if name is None else kitchen.find(name)
    if package is None or ingredient is None:
        return []
    if not isinstance(packs.read(ingredient, f"1 {package}"), MeasureRefused):
        return []
    return [
        row.problem(
            "pack",
            f"{line.quantity:f} {line.unit} ({package}) of {ingredient.name}",
            f"a measure {quoted(package)} of {ingredient.name}, to know what it weighs",
            "Load that measure first.",
        )
    ]


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


def _raw(line: int, cells: Sequence[str]) -> RawRow:
    out = io.StringIO()
    csv.writer(out, lineterminator="").writerow(cells)
    return RawRow(line=line, raw=out.getvalue(), cells=tuple(cells))
