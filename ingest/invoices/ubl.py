"""Where an invoice or credit note in OASIS UBL 2.1 has its terms, as EN 16931 uses it.

Source: CEN/TS 16931-3-2, which names the element of each business term.
"""

from __future__ import annotations

from dataclasses import replace

from ingest.invoices.terms import AmountPaths, Paths

_SELLER = "AccountingSupplierParty/Party"
_AMOUNTS = AmountPaths(
    at="AllowanceCharge", charge="ChargeIndicator", amount="Amount", vat="TaxCategory"
)
_INVOICE = Paths(
    number="ID",
    date="IssueDate",
    supplier=(f"{_SELLER}/PartyLegalEntity/RegistrationName", f"{_SELLER}/PartyName/Name"),
    currency="DocumentCurrencyCode",
    type_code="InvoiceTypeCode",
    lines_net="LegalMonetaryTotal/LineExtensionAmount",
    allowances="LegalMonetaryTotal/AllowanceTotalAmount",
    charges="LegalMonetaryTotal/ChargeTotalAmount",
    net="LegalMonetaryTotal/TaxExclusiveAmount",
    tax="TaxTotal/TaxAmount",
    total="LegalMonetaryTotal/TaxInclusiveAmount",
    payable="LegalMonetaryTotal/PayableAmount",
    shared=(_AMOUNTS,),
    lines="InvoiceLine",
    line="ID",
    description=("Item/Name", "Item/Description"),
    item_number="Item/SellersItemIdentification/ID",
    gtin="Item/StandardItemIdentification/ID",
    quantity="InvoicedQuantity",
    price="Price/PriceAmount",
    base_quantity="Price/BaseQuantity",
    line_amounts=_AMOUNTS,
    line_net="LineExtensionAmount",
    line_vat="Item/ClassifiedTaxCategory",
    category="ID",
    percent="Percent",
)
PATHS = {  # by the name of the outermost element
    "{urn:oasis:names:specification:ubl:schema:xsd:Invoice-2}Invoice": _INVOICE,
    "{urn:oasis:names:specification:ubl:schema:xsd:CreditNote-2}CreditNote": replace(
        _INVOICE, type_code=None, lines="CreditNoteLine", quantity="CreditedQuantity"
    ),
}
