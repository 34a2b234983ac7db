"""Reads an invoice or credit note in OASIS UBL 2.1, as EN 16931 uses it.

Source: CEN/TS 16931-3-2, which names the element of each business term.
"""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from ingest.invoices.assemble import Head, Totals, assemble, checked_gtin
from ingest.invoices.document import Invoice, InvoiceLine, SharedAmount, Vat
from ingest.invoices.elements import Elements, line_numbers, path

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

NAMESPACES = {
    "{urn:oasis:names:specification:ubl:schema:xsd:Invoice-2}Invoice",
    "{urn:oasis:names:specification:ubl:schema:xsd:CreditNote-2}CreditNote",
}
_ZERO = Decimal(0)
_SELLER = "AccountingSupplierParty/Party"


def read_ubl(root: Element, elements: Elements) -> Invoice:
    """Return what the document says; `elements` has its problems."""
    credit = root.tag.endswith("}CreditNote")
    kind = "CreditNote" if credit else "Invoice"
    head = Head(
        number=elements.text(root, "ID"),
        date=elements.day(root, "IssueDate"),
        supplier=elements.text(
            root, f"{_SELLER}/PartyLegalEntity/RegistrationName", f"{_SELLER}/PartyName/Name"
        ),
        currency=elements.text(root, "DocumentCurrencyCode"),
        type_code="381" if credit else elements.maybe(root, "InvoiceTypeCode"),
    )
    counted = "CreditedQuantity" if credit else "InvoicedQuantity"
    lines = []
    at_lines = root.findall(path(f"{kind}Line"))
    numbers = line_numbers([elements.maybe(at, "ID") for at in at_lines])
    for number, at in zip(numbers, at_lines, strict=True):
        elements.line = number
        lines.append(_line(elements, at, counted, head))
    elements.line = None
    shared = [_shared(elements, at) for at in root.iterfind(path("AllowanceCharge"))]
    return assemble(elements, head, _totals(elements, root, head.currency), lines, shared)


def _line(elements: Elements, at: Element, counted: str, head: Head) -> InvoiceLine:
    line = elements.text(at, "ID")
    amounts = [_shared(elements, each) for each in at.iterfind(path("AllowanceCharge"))]
    item = at.find(path("Item/StandardItemIdentification/ID"))
    scheme = None if item is None else item.get("schemeID")
    standard = elements.maybe(at, "Item/StandardItemIdentification/ID")
    quantity = at.find(path(counted))
    base = elements.number(at, "Price/BaseQuantity", Decimal(1))
    if base <= 0:
        elements.wrong("BaseQuantity", f"{base:f}", "a number over 0")
    return InvoiceLine(
        number=elements.line or 0,
        line=line,
        description=elements.text(at, "Item/Name", "Item/Description"),
        item_number=elements.maybe(at, "Item/SellersItemIdentification/ID"),
        gtin=checked_gtin(head, standard, scheme, line),
        quantity=elements.number(at, counted),
        unit="" if quantity is None else quantity.get("unitCode", "").strip(),
        price=elements.number(at, "Price/PriceAmount"),
        base_quantity=base,
        allowances=-sum((each.amount for each in amounts if not each.charge), _ZERO),
        charges=sum((each.amount for each in amounts if each.charge), _ZERO),
        net=elements.number(at, "LineExtensionAmount"),
        vat=_vat(elements, at, "Item/ClassifiedTaxCategory"),
    )


def _shared(elements: Elements, at: Element) -> SharedAmount:
    charge = elements.text(at, "ChargeIndicator") in ("true", "1")
    amount = elements.number(at, "Amount")
    return SharedAmount(
        amount=amount if charge else -amount,
        charge=charge,
        vat=_vat(elements, at, "TaxCategory"),
    )


def _vat(elements: Elements, at: Element, where: str) -> Vat:
    return Vat(
        category=elements.maybe(at, f"{where}/ID"),
        percent=elements.number(at, f"{where}/Percent", _ZERO),
    )


def _totals(elements: Elements, root: Element, currency: str) -> Totals:
    """Return the sums. The tax may also be told in the currency of the accounts: that is not it."""
    foot = "LegalMonetaryTotal"
    tax = _ZERO
    for at in root.iterfind(path("TaxTotal")):
        amount = at.find(path("TaxAmount"))
        if amount is not None and amount.get("currencyID", currency) == currency:
            tax = elements.number(at, "TaxAmount")
            break
    return Totals(
        lines_net=elements.number(root, f"{foot}/LineExtensionAmount"),
        allowances=elements.number(root, f"{foot}/AllowanceTotalAmount", _ZERO),
        charges=elements.number(root, f"{foot}/ChargeTotalAmount", _ZERO),
        net=elements.number(root, f"{foot}/TaxExclusiveAmount"),
        tax=tax,
        total=elements.number(root, f"{foot}/TaxInclusiveAmount"),
        payable=elements.number(root, f"{foot}/PayableAmount"),
    )
