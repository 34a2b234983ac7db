"""An e-invoice of any lines, in UBL: what a kitchen drops whose words its book does not know."""

from __future__ import annotations

from collections.abc import Sequence

Line = tuple[str, str, str, str]  # words, quantity, unit code (Rec 20), price of one unit

_ZERO = (
    "<cbc:ID>Z</cbc:ID><cbc:Percent>0</cbc:Percent>"
    "<cac:TaxScheme><cbc:ID>VAT</cbc:ID></cac:TaxScheme>"
)
_LINE = (
    "<cac:InvoiceLine><cbc:ID>{number}</cbc:ID>"
    '<cbc:InvoicedQuantity unitCode="{unit}">{quantity}</cbc:InvoicedQuantity>'
    '<cbc:LineExtensionAmount currencyID="USD">{net:.2f}</cbc:LineExtensionAmount>'
    "<cac:Item><cbc:Name>{words}</cbc:Name>"
    f"<cac:ClassifiedTaxCategory>{_ZERO}</cac:ClassifiedTaxCategory></cac:Item>"
    '<cac:Price><cbc:PriceAmount currencyID="USD">{price}</cbc:PriceAmount></cac:Price>'
    "</cac:InvoiceLine>"
)
_BILL = """<?xml version="1.0" encoding="UTF-8"?>
<Invoice xmlns="urn:oasis:names:specification:ubl:schema:xsd:Invoice-2"
 xmlns:cac="urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2"
 xmlns:cbc="urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2">
<cbc:CustomizationID>urn:cen.eu:en16931:2017</cbc:CustomizationID><cbc:ID>{number}</cbc:ID>
<cbc:IssueDate>2026-11-20</cbc:IssueDate><cbc:InvoiceTypeCode>380</cbc:InvoiceTypeCode>
<cbc:DocumentCurrencyCode>USD</cbc:DocumentCurrencyCode>
<cac:AccountingSupplierParty><cac:Party>
<cac:PartyName><cbc:Name>Tarn Hill</cbc:Name></cac:PartyName>
<cac:PartyLegalEntity><cbc:RegistrationName>Tarn Hill</cbc:RegistrationName></cac:PartyLegalEntity>
</cac:Party></cac:AccountingSupplierParty>
<cac:TaxTotal><cbc:TaxAmount currencyID="USD">0.00</cbc:TaxAmount><cac:TaxSubtotal>
<cbc:TaxableAmount currencyID="USD">{net:.2f}</cbc:TaxableAmount>
<cbc:TaxAmount currencyID="USD">0.00</cbc:TaxAmount>
<cac:TaxCategory>{zero}</cac:TaxCategory></cac:TaxSubtotal></cac:TaxTotal>
<cac:LegalMonetaryTotal>
<cbc:LineExtensionAmount currencyID="USD">{net:.2f}</cbc:LineExtensionAmount>
<cbc:TaxExclusiveAmount currencyID="USD">{net:.2f}</cbc:TaxExclusiveAmount>
<cbc:TaxInclusiveAmount currencyID="USD">{net:.2f}</cbc:TaxInclusiveAmount>
<cbc:PayableAmount currencyID="USD">{net:.2f}</cbc:PayableAmount>
</cac:LegalMonetaryTotal>
{lines}
</Invoice>
"""


def bill(lines: Sequence[Line], number: str = "TH-1") -> bytes:
    """Return an invoice of Tarn Hill, of 20 November 2026, in dollars and without tax."""
    nets = [float(quantity) * float(price) for _, quantity, _, price in lines]
    shown = [
        _LINE.format(number=at, words=words, quantity=quantity, unit=unit, price=price, net=net)
        for at, ((words, quantity, unit, price), net) in enumerate(
            zip(lines, nets, strict=True), start=1
        )
    ]
    text = _BILL.format(number=number, net=sum(nets), zero=_ZERO, lines="\n".join(shown))
    return text.encode()
