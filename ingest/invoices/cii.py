"""Reads an invoice or credit note in UN/CEFACT Cross Industry Invoice, as EN 16931 uses it.

Source: CEN/TS 16931-3-3, which names the element of each business term; the kinds of lines and the
charge for logistics are of the EXTENDED profile of Factur-X.
"""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from ingest.invoices.assemble import Head, Totals, assemble, checked_gtin, not_billed
from ingest.invoices.document import Invoice, InvoiceLine, SharedAmount, Vat
from ingest.invoices.elements import Elements, line_numbers, path

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

ROOT = "{urn:un:unece:uncefact:data:standard:CrossIndustryInvoice:100}CrossIndustryInvoice"
_ZERO = Decimal(0)
_TRADE = "SupplyChainTradeTransaction"
_DAY = "DateTimeString"
_NOT_BILLED = ("GROUP", "INFORMATION")


def read_cii(root: Element, elements: Elements) -> Invoice:
    """Return what the document says; `elements` has its problems."""
    settled = root.find(path(f"{_TRADE}/ApplicableHeaderTradeSettlement"))
    settled = root if settled is None else settled  # then each of its terms is missed by name
    head = Head(
        number=elements.text(root, "ExchangedDocument/ID"),
        date=elements.day(root, f"ExchangedDocument/IssueDateTime/{_DAY}"),
        supplier=elements.text(
            root, f"{_TRADE}/ApplicableHeaderTradeAgreement/SellerTradeParty/Name"
        ),
        currency=elements.text(settled, "InvoiceCurrencyCode"),
        type_code=elements.maybe(root, "ExchangedDocument/TypeCode"),
    )
    lines = []
    left_out = 0
    at_lines = root.findall(path(f"{_TRADE}/IncludedSupplyChainTradeLineItem"))
    numbers = line_numbers(
        [elements.maybe(at, "AssociatedDocumentLineDocument/LineID") for at in at_lines]
    )
    for number, at in zip(numbers, at_lines, strict=True):
        elements.line = number
        if elements.maybe(at, "AssociatedDocumentLineDocument/LineStatusReasonCode") in _NOT_BILLED:
            left_out += 1
        else:
            lines.append(_line(elements, at, head))
    not_billed(head, left_out)
    elements.line = None
    totals = _totals(elements, settled, head.currency)
    return assemble(elements, head, totals, lines, _shared_amounts(elements, settled))


def _line(elements: Elements, at: Element, head: Head) -> InvoiceLine:
    line = elements.text(at, "AssociatedDocumentLineDocument/LineID")
    amounts = [
        _shared(elements, each)
        for each in at.iterfind(path("SpecifiedLineTradeSettlement/SpecifiedTradeAllowanceCharge"))
    ]
    item = at.find(path("SpecifiedTradeProduct/GlobalID"))
    scheme = None if item is None else item.get("schemeID")
    billed = "SpecifiedLineTradeDelivery/BilledQuantity"
    quantity = at.find(path(billed))
    net_price = "SpecifiedLineTradeAgreement/NetPriceProductTradePrice"
    base = elements.number(at, f"{net_price}/BasisQuantity", Decimal(1))
    if base <= 0:
        elements.wrong("BasisQuantity", f"{base:f}", "a number over 0")
    product, sums = "SpecifiedTradeProduct", "SpecifiedTradeSettlementLineMonetarySummation"
    return InvoiceLine(
        number=elements.line or 0,
        line=line,
        description=elements.text(at, f"{product}/Name", f"{product}/Description"),
        item_number=elements.maybe(at, f"{product}/SellerAssignedID"),
        gtin=checked_gtin(head, elements.maybe(at, f"{product}/GlobalID"), scheme, line),
        quantity=elements.number(at, billed),
        unit="" if quantity is None else quantity.get("unitCode", "").strip(),
        price=elements.number(at, f"{net_price}/ChargeAmount"),
        base_quantity=base,
        allowances=-sum((each.amount for each in amounts if not each.charge), _ZERO),
        charges=sum((each.amount for each in amounts if each.charge), _ZERO),
        net=elements.number(at, f"SpecifiedLineTradeSettlement/{sums}/LineTotalAmount"),
        vat=_vat(elements, at, "SpecifiedLineTradeSettlement/ApplicableTradeTax"),
    )


def _shared_amounts(elements: Elements, settled: Element) -> list[SharedAmount]:
    shared = [
        _shared(elements, at) for at in settled.iterfind(path("SpecifiedTradeAllowanceCharge"))
    ]
    for at in settled.iterfind(path("SpecifiedLogisticsServiceCharge")):
        amount = elements.number(at, "AppliedAmount")
        vat = _vat(elements, at, "AppliedTradeTax")
        shared.append(SharedAmount(amount=amount, charge=True, vat=vat))
    return shared


def _shared(elements: Elements, at: Element) -> SharedAmount:
    charge = elements.text(at, "ChargeIndicator/Indicator") in ("true", "1")
    amount = elements.number(at, "ActualAmount")
    return SharedAmount(
        amount=amount if charge else -amount,
        charge=charge,
        vat=_vat(elements, at, "CategoryTradeTax"),
    )


def _vat(elements: Elements, at: Element, where: str) -> Vat:
    return Vat(
        category=elements.maybe(at, f"{where}/CategoryCode"),
        percent=elements.number(at, f"{where}/RateApplicablePercent", _ZERO),
    )


def _totals(elements: Elements, settled: Element, currency: str) -> Totals:
    """Return the sums. The tax may also be told in the currency of the accounts: that is not it."""
    foot = "SpecifiedTradeSettlementHeaderMonetarySummation"
    tax = _ZERO
    for place, at in enumerate(settled.iterfind(path(f"{foot}/TaxTotalAmount")), start=1):
        if at.get("currencyID", currency) == currency:
            tax = elements.number(settled, f"{foot}/TaxTotalAmount[{place}]")
            break
    return Totals(
        lines_net=elements.number(settled, f"{foot}/LineTotalAmount"),
        allowances=elements.number(settled, f"{foot}/AllowanceTotalAmount", _ZERO),
        charges=elements.number(settled, f"{foot}/ChargeTotalAmount", _ZERO),
        net=elements.number(settled, f"{foot}/TaxBasisTotalAmount"),
        tax=tax,
        total=elements.number(settled, f"{foot}/GrandTotalAmount"),
        payable=elements.number(settled, f"{foot}/DuePayableAmount"),
    )
