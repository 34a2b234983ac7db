"""Reads the terms of an invoice from where its syntax has them."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from ingest.invoices.assemble import Head, Totals, assemble, checked_gtin, not_billed
from ingest.invoices.document import Invoice, InvoiceLine, SharedAmount, Vat
from ingest.invoices.elements import Elements, line_numbers, path

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

_ZERO = Decimal(0)


@dataclass(frozen=True, kw_only=True)
class AmountPaths:
    """Where an allowance or charge is, and from there what is said of it."""

    at: str
    charge: str | None  # whether it is one; None: always
    amount: str
    vat: str


@dataclass(frozen=True, kw_only=True)
class Paths:
    """Where a syntax has each term: from the outermost element, or from the line or tax."""

    number: str
    date: str
    supplier: tuple[str, ...]  # of several the first that has a text
    currency: str
    type_code: str | None  # None: a credit note, by the name of the outermost element
    lines_net: str
    allowances: str
    charges: str
    net: str
    tax: str
    total: str
    payable: str
    shared: tuple[AmountPaths, ...]
    lines: str
    # of a line
    line: str
    status: str | None = None
    not_billed: frozenset[str] = frozenset()  # what `status` is of lines that only inform
    description: tuple[str, ...]
    item_number: str
    gtin: str
    quantity: str
    price: str
    base_quantity: str
    line_amounts: AmountPaths
    line_net: str
    line_vat: str
    # of a tax
    category: str
    percent: str


def read_terms(root: Element, paths: Paths, elements: Elements) -> Invoice:
    """Return what the document says; `elements` has its problems."""
    head = Head(
        number=elements.text(root, paths.number),
        date=elements.day(root, paths.date),
        supplier=elements.text(root, *paths.supplier),
        currency=elements.text(root, paths.currency),
        type_code="381" if paths.type_code is None else elements.maybe(root, paths.type_code),
    )
    at_lines = root.findall(path(paths.lines))
    numbers = line_numbers([elements.maybe(at, paths.line) for at in at_lines])
    lines = []
    for number, at in zip(numbers, at_lines, strict=True):
        elements.line = number
        if paths.status is None or elements.maybe(at, paths.status) not in paths.not_billed:
            lines.append(_line(elements, at, paths, head))
    not_billed(head, len(at_lines) - len(lines))
    elements.line = None
    totals = _totals(elements, root, paths, head.currency)
    shared = [each for amounts in paths.shared for each in _amounts(elements, root, amounts, paths)]
    return assemble(elements, head, totals, lines, shared)


def _line(elements: Elements, at: Element, paths: Paths, head: Head) -> InvoiceLine:
    line = elements.text(at, paths.line)
    amounts = _amounts(elements, at, paths.line_amounts, paths)
    item, quantity = at.find(path(paths.gtin)), at.find(path(paths.quantity))
    scheme = None if item is None else item.get("schemeID")
    base = elements.number(at, paths.base_quantity, Decimal(1))
    if base <= 0:
        elements.wrong(paths.base_quantity, f"{base:f}", "a number over 0")
    return InvoiceLine(
        number=elements.line or 0,
        line=line,
        description=elements.text(at, *paths.description),
        item_number=elements.maybe(at, paths.item_number),
        gtin=checked_gtin(head, elements.maybe(at, paths.gtin), scheme, line),
        quantity=elements.number(at, paths.quantity),
        unit="" if quantity is None else quantity.get("unitCode", "").strip(),
        price=elements.number(at, paths.price),
        base_quantity=base,
        allowances=-sum((each.amount for each in amounts if not each.charge), _ZERO),
        charges=sum((each.amount for each in amounts if each.charge), _ZERO),
        net=elements.number(at, paths.line_net),
        vat=_vat(elements, at, paths.line_vat, paths),
    )


def _amounts(
    elements: Elements, root: Element, amounts: AmountPaths, paths: Paths
) -> list[SharedAmount]:
    """Return the allowances and charges of a line or of the document."""
    found = []
    for at in root.iterfind(path(amounts.at)):
        charge = amounts.charge is None or elements.text(at, amounts.charge) in ("true", "1")
        amount = elements.number(at, amounts.amount)
        vat = _vat(elements, at, amounts.vat, paths)
        found.append(SharedAmount(amount=amount if charge else -amount, charge=charge, vat=vat))
    return found


def _vat(elements: Elements, at: Element, where: str, paths: Paths) -> Vat:
    return Vat(
        category=elements.maybe(at, f"{where}/{paths.category}"),
        percent=elements.number(at, f"{where}/{paths.percent}", _ZERO),
    )


def _totals(elements: Elements, root: Element, paths: Paths, currency: str) -> Totals:
    """Return the sums. The tax may also be told in the currency of the accounts: that is not it."""
    return Totals(
        lines_net=elements.number(root, paths.lines_net),
        allowances=elements.number(root, paths.allowances, _ZERO),
        charges=elements.number(root, paths.charges, _ZERO),
        net=elements.number(root, paths.net),
        tax=elements.number(root, paths.tax, _ZERO, currency=currency),
        total=elements.number(root, paths.total),
        payable=elements.number(root, paths.payable),
    )
