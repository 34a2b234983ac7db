"""Where an invoice or credit note in UN/CEFACT Cross Industry Invoice has its terms, for EN 16931.

Source: CEN/TS 16931-3-3, which names the element of each business term; the kinds of lines and the
charge for logistics are of the EXTENDED profile of Factur-X.
"""

from __future__ import annotations

from ingest.invoices.terms import AmountPaths, Paths

_TRADE = "SupplyChainTradeTransaction"
_SETTLED = f"{_TRADE}/ApplicableHeaderTradeSettlement"
_FOOT = f"{_SETTLED}/SpecifiedTradeSettlementHeaderMonetarySummation"
_ABOUT_LINE = "AssociatedDocumentLineDocument"
_LINE_SETTLED = "SpecifiedLineTradeSettlement"
_NET_PRICE = "SpecifiedLineTradeAgreement/NetPriceProductTradePrice"


def _amounts(settled: str) -> AmountPaths:
    return AmountPaths(
        at=f"{settled}/SpecifiedTradeAllowanceCharge",
        charge="ChargeIndicator/Indicator",
        amount="ActualAmount",
        vat="CategoryTradeTax",
    )


_LOGISTICS = AmountPaths(
    at=f"{_SETTLED}/SpecifiedLogisticsServiceCharge",
    charge=None,
    amount="AppliedAmount",
    vat="AppliedTradeTax",
)
_INVOICE = Paths(
    number="ExchangedDocument/ID",
    date="ExchangedDocument/IssueDateTime/DateTimeString",
    supplier=(f"{_TRADE}/ApplicableHeaderTradeAgreement/SellerTradeParty/Name",),
    currency=f"{_SETTLED}/InvoiceCurrencyCode",
    type_code="ExchangedDocument/TypeCode",
    lines_net=f"{_FOOT}/LineTotalAmount",
    allowances=f"{_FOOT}/AllowanceTotalAmount",
    charges=f"{_FOOT}/ChargeTotalAmount",
    net=f"{_FOOT}/TaxBasisTotalAmount",
    tax=f"{_FOOT}/TaxTotalAmount",
    total=f"{_FOOT}/GrandTotalAmount",
    payable=f"{_FOOT}/DuePayableAmount",
    shared=(_amounts(_SETTLED), _LOGISTICS),
    lines=f"{_TRADE}/IncludedSupplyChainTradeLineItem",
    line=f"{_ABOUT_LINE}/LineID",
    status=f"{_ABOUT_LINE}/LineStatusReasonCode",
    not_billed=frozenset({"GROUP", "INFORMATION"}),
    description=("SpecifiedTradeProduct/Name", "SpecifiedTradeProduct/Description"),
    item_number="SpecifiedTradeProduct/SellerAssignedID",
    gtin="SpecifiedTradeProduct/GlobalID",
    quantity="SpecifiedLineTradeDelivery/BilledQuantity",
    price=f"{_NET_PRICE}/ChargeAmount",
    base_quantity=f"{_NET_PRICE}/BasisQuantity",
    line_amounts=_amounts(_LINE_SETTLED),
    line_net=f"{_LINE_SETTLED}/SpecifiedTradeSettlementLineMonetarySummation/LineTotalAmount",
    line_vat=f"{_LINE_SETTLED}/ApplicableTradeTax",
    category="CategoryCode",
    percent="RateApplicablePercent",
)
PATHS = {  # by the name of the outermost element
    "{urn:un:unece:uncefact:data:standard:CrossIndustryInvoice:100}CrossIndustryInvoice": _INVOICE
}
