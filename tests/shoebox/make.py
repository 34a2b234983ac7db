"""Writes the files of the shoebox that are no plain text: workbooks, e-invoices, a PDF."""

from __future__ import annotations

import io
from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path
from xml.sax.saxutils import escape

from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import Table, TableCell, TableRow
from odf.text import P
from openpyxl import Workbook

from tests.ingest.invoices.documents import pdf

# item number, description, quantity, unit code, price of one, VAT in per cent
Line = tuple[str, str, str, str, str, str]
LIST_OCTOBER = (
    ("D-10", "Double cream", "1 l", 4.20),
    ("D-11", "Whole milk", "1 l", 1.10),
    ("D-20", "Gruyère, matured 10 months", "1 kg", 18.50),
    ("D-30", "Crème fraîche", "6 x 200 g", 7.80),
)
LIST_NOVEMBER = (
    ("D-10", "Double cream", "1 l", 4.40),
    ("D-11", "Whole milk", "1 l", 1.10),
    ("D-20", "Gruyère, matured 10 months", "1 kg", 18.90),
    ("D-30", "Crème fraîche", "6 x 200 g", 7.80),
)
INVOICES: dict[str, tuple[str, str, tuple[Line, ...]]] = {  # file: number, day, lines
    "october/oxlease_1.xml": (
        "OX-301",
        "2026-10-08",
        (
            ("C-7", "Chicken thighs, boneless", "5", "KGM", "7.00", "7"),
            ("R-2", "Red lentils, sack", "10", "KGM", "2.60", "7"),
        ),
    ),
    "october/oxlease_2.xml": (
        "OX-309",
        "2026-10-22",
        (
            ("C-7", "Chicken thighs, boneless", "3", "KGM", "7.20", "7"),
            ("S-1", "Fine sea salt", "1", "KGM", "1.00", "7"),
            ("X-9", "Delivery crate", "2", "H87", "3.50", "19"),
        ),
    ),
    "november/oxlease_1.xml": (
        "OX-322",
        "2026-11-05",
        (("C-7", "Chicken thighs, boneless", "4", "KGM", "7.50", "7"),),
    ),
    "november/oxlease_2.xml": (
        "OX-330",
        "2026-11-19",
        (
            ("R-2", "Red lentils, sack", "10", "KGM", "2.70", "7"),
            ("S-1", "Fine sea salt", "2", "KGM", "1.00", "7"),
        ),
    ),
}
CREDITS = {
    "october/oxlease_credit.xml": (
        "OX-311",
        "2026-10-24",
        (("C-7", "Chicken thighs, boneless", "1", "KGM", "7.20", "7"),),
    )
}
FLOURS = {
    "october/muehlbach.pdf": (
        "MB-88",
        "20261012",
        (
            ("T405", "Weizenmehl Type 405, 25 kg", "2", "XSA", "18.00", "7"),
            ("PEP", "Black pepper, ground 500 g", "1", "H87", "9.00", "7"),
        ),
    ),
    "november/muehlbach.pdf": (
        "MB-91",
        "20261112",
        (("T405", "Weizenmehl Type 405, 25 kg", "1", "XSA", "18.50", "7"),),
    ),
}
OLD_COSTINGS = (
    ("Chicken and leek pie", "10/2019", 1.80),
    ("Lemon lentil soup", "10/2019", 0.55),
    ("Kartoffelsuppe", "03/2021", 0.70),
)


def make(folder: Path) -> None:
    """Write all of them under a folder that has `october` and `november`."""
    files = {
        "october/marchland.xlsx": _price_list("1 October 2026", LIST_OCTOBER),
        "november/marchland.xlsx": _price_list("2 November 2026", LIST_NOVEMBER),
        "old_costings.ods": _old_costings(),
        **{name: _ubl("Invoice", *what) for name, what in INVOICES.items()},
        **{name: _ubl("CreditNote", *what) for name, what in CREDITS.items()},
        **{name: pdf({"factur-x.xml": _cii(*what)}) for name, what in FLOURS.items()},
    }
    for name, data in files.items():
        (folder / name).write_bytes(data)


def _price_list(day: str, goods: Sequence[tuple[str, str, str, float]]) -> bytes:
    """Return a workbook with a title over all columns, and a sheet of terms before the list."""
    book = Workbook()
    terms = book.active
    assert terms is not None
    terms.title = "Terms"
    terms.append(["Marchland Creamery (invented): delivery on Tuesdays, orders by Monday noon"])
    sheet = book.create_sheet("Price list")
    sheet.append(["Marchland Creamery: trade price list (invented)"])
    sheet.merge_cells("A1:D1")
    sheet.append(["Supplier", "Marchland Creamery"])
    sheet.append(["Valid from", day])
    sheet.append([])
    sheet.append(["Code", "Product", "Pack", "Price excl. VAT 7% (EUR)"])
    sheet.append(["Dairy"])
    sheet.merge_cells("A6:D6")
    for row in goods:
        sheet.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _old_costings() -> bytes:
    document = OpenDocumentSpreadsheet()
    table = Table(name="Costings")
    for row in (
        ("Old costings (invented)",),
        ("Dish", "Month", "Cost per portion €"),
        *OLD_COSTINGS,
    ):
        line = TableRow()
        for value in row:
            number = isinstance(value, float)
            cell = (
                TableCell(valuetype="float", value=str(value))
                if number
                else TableCell(valuetype="string")
            )
            cell.addElement(P(text=str(value)))
            line.addElement(cell)
        table.addElement(line)
    document.spreadsheet.addElement(table)
    out = io.BytesIO()
    document.save(out)
    return out.getvalue()


def _cents(amount: Decimal) -> Decimal:
    return amount.quantize(Decimal("0.01"))


def _sums(lines: Sequence[Line]) -> tuple[Decimal, dict[str, Decimal]]:
    """Return the net total, and the net total of each rate."""
    rates: dict[str, Decimal] = {}
    for *_, quantity, _unit, price, rate in lines:
        rates[rate] = rates.get(rate, Decimal(0)) + Decimal(quantity) * Decimal(price)
    return sum(rates.values(), Decimal(0)), rates


def _ubl(form: str, number: str, day: str, lines: Sequence[Line]) -> bytes:
    """Return a UBL 2.1 invoice or credit note of the invented Oxlease Foods."""
    net, rates = _sums(lines)
    taxes = {rate: _cents(base * Decimal(rate) / 100) for rate, base in rates.items()}
    tax = sum(taxes.values(), Decimal(0))
    money = 'currencyID="EUR"'
    scheme = "<cac:TaxScheme><cbc:ID>VAT</cbc:ID></cac:TaxScheme>"
    many = "InvoicedQuantity" if form == "Invoice" else "CreditedQuantity"
    code = "380" if form == "Invoice" else "381"
    groups = "".join(
        f"<cac:TaxSubtotal><cbc:TaxableAmount {money}>{_cents(rates[rate])}</cbc:TaxableAmount>"
        f"<cbc:TaxAmount {money}>{amount}</cbc:TaxAmount><cac:TaxCategory><cbc:ID>S</cbc:ID>"
        f"<cbc:Percent>{rate}</cbc:Percent>{scheme}</cac:TaxCategory></cac:TaxSubtotal>"
        for rate, amount in taxes.items()
    )
    rows = "".join(
        f"<cac:{form}Line><cbc:ID>{at}</cbc:ID>"
        f'<cbc:{many} unitCode="{unit}">{quantity}</cbc:{many}>'
        f"<cbc:LineExtensionAmount {money}>{_cents(Decimal(quantity) * Decimal(price))}"
        f"</cbc:LineExtensionAmount><cac:Item><cbc:Name>{escape(words)}</cbc:Name>"
        f"<cac:SellersItemIdentification><cbc:ID>{item}</cbc:ID></cac:SellersItemIdentification>"
        f"<cac:ClassifiedTaxCategory><cbc:ID>S</cbc:ID><cbc:Percent>{rate}</cbc:Percent>{scheme}"
        f"</cac:ClassifiedTaxCategory></cac:Item><cac:Price><cbc:PriceAmount {money}>{price}"
        f"</cbc:PriceAmount></cac:Price></cac:{form}Line>"
        for at, (item, words, quantity, unit, price, rate) in enumerate(lines, start=1)
    )
    space = "urn:oasis:names:specification:ubl:schema:xsd:"
    return (
        f'<?xml version="1.0" encoding="UTF-8"?><!-- invented --><{form} xmlns="{space}{form}-2" '
        f'xmlns:cac="{space}CommonAggregateComponents-2" '
        f'xmlns:cbc="{space}CommonBasicComponents-2">'
        f"<cbc:CustomizationID>urn:cen.eu:en16931:2017</cbc:CustomizationID>"
        f"<cbc:ID>{number}</cbc:ID>"
        f"<cbc:IssueDate>{day}</cbc:IssueDate><cbc:{form}TypeCode>{code}</cbc:{form}TypeCode>"
        "<cbc:DocumentCurrencyCode>EUR</cbc:DocumentCurrencyCode><cac:AccountingSupplierParty>"
        "<cac:Party><cac:PartyLegalEntity>"
        "<cbc:RegistrationName>Oxlease Foods</cbc:RegistrationName>"
        "</cac:PartyLegalEntity></cac:Party></cac:AccountingSupplierParty>"
        f"<cac:TaxTotal><cbc:TaxAmount {money}>{tax}</cbc:TaxAmount>{groups}</cac:TaxTotal>"
        f"<cac:LegalMonetaryTotal><cbc:LineExtensionAmount {money}>{_cents(net)}"
        f"</cbc:LineExtensionAmount><cbc:TaxExclusiveAmount {money}>{_cents(net)}"
        f"</cbc:TaxExclusiveAmount><cbc:TaxInclusiveAmount {money}>{_cents(net + tax)}"
        f"</cbc:TaxInclusiveAmount><cbc:PayableAmount {money}>{_cents(net + tax)}"
        f"</cbc:PayableAmount></cac:LegalMonetaryTotal>{rows}</{form}>"
    ).encode()


def _cii(number: str, day: str, lines: Sequence[Line]) -> bytes:
    """Return a CII invoice of the invented Mühlbach mill."""
    net, rates = _sums(lines)
    tax = sum((_cents(base * Decimal(rate) / 100) for rate, base in rates.items()), Decimal(0))
    rows = "".join(
        "<ram:IncludedSupplyChainTradeLineItem><ram:AssociatedDocumentLineDocument>"
        f"<ram:LineID>{at}</ram:LineID></ram:AssociatedDocumentLineDocument>"
        f"<ram:SpecifiedTradeProduct><ram:SellerAssignedID>{item}</ram:SellerAssignedID>"
        f"<ram:Name>{escape(words)}</ram:Name></ram:SpecifiedTradeProduct>"
        "<ram:SpecifiedLineTradeAgreement><ram:NetPriceProductTradePrice>"
        f"<ram:ChargeAmount>{price}</ram:ChargeAmount></ram:NetPriceProductTradePrice>"
        "</ram:SpecifiedLineTradeAgreement><ram:SpecifiedLineTradeDelivery>"
        f'<ram:BilledQuantity unitCode="{unit}">{quantity}</ram:BilledQuantity>'
        "</ram:SpecifiedLineTradeDelivery><ram:SpecifiedLineTradeSettlement>"
        "<ram:ApplicableTradeTax><ram:TypeCode>VAT</ram:TypeCode><ram:CategoryCode>S"
        f"</ram:CategoryCode><ram:RateApplicablePercent>{rate}</ram:RateApplicablePercent>"
        "</ram:ApplicableTradeTax><ram:SpecifiedTradeSettlementLineMonetarySummation>"
        f"<ram:LineTotalAmount>{_cents(Decimal(quantity) * Decimal(price))}</ram:LineTotalAmount>"
        "</ram:SpecifiedTradeSettlementLineMonetarySummation></ram:SpecifiedLineTradeSettlement>"
        "</ram:IncludedSupplyChainTradeLineItem>"
        for at, (item, words, quantity, unit, price, rate) in enumerate(lines, start=1)
    )
    data = "urn:un:unece:uncefact:data:standard"
    return (
        '<?xml version="1.0" encoding="UTF-8"?><!-- invented --><rsm:CrossIndustryInvoice '
        f'xmlns:rsm="{data}:CrossIndustryInvoice:100" '
        f'xmlns:ram="{data}:ReusableAggregateBusinessInformationEntity:100" '
        f'xmlns:udt="{data}:UnqualifiedDataType:100"><rsm:ExchangedDocumentContext>'
        "<ram:GuidelineSpecifiedDocumentContextParameter><ram:ID>urn:cen.eu:en16931:2017</ram:ID>"
        "</ram:GuidelineSpecifiedDocumentContextParameter></rsm:ExchangedDocumentContext>"
        f"<rsm:ExchangedDocument><ram:ID>{number}</ram:ID><ram:TypeCode>380</ram:TypeCode>"
        f'<ram:IssueDateTime><udt:DateTimeString format="102">{day}</udt:DateTimeString>'
        "</ram:IssueDateTime></rsm:ExchangedDocument><rsm:SupplyChainTradeTransaction>"
        f"{rows}<ram:ApplicableHeaderTradeAgreement><ram:SellerTradeParty>"
        "<ram:Name>Mühlbach Mühle</ram:Name></ram:SellerTradeParty>"
        "</ram:ApplicableHeaderTradeAgreement><ram:ApplicableHeaderTradeDelivery/>"
        "<ram:ApplicableHeaderTradeSettlement><ram:InvoiceCurrencyCode>EUR</ram:InvoiceCurrencyCode>"
        "<ram:SpecifiedTradeSettlementHeaderMonetarySummation>"
        f"<ram:LineTotalAmount>{_cents(net)}</ram:LineTotalAmount>"
        f"<ram:TaxBasisTotalAmount>{_cents(net)}</ram:TaxBasisTotalAmount>"
        f'<ram:TaxTotalAmount currencyID="EUR">{tax}</ram:TaxTotalAmount>'
        f"<ram:GrandTotalAmount>{_cents(net + tax)}</ram:GrandTotalAmount>"
        f"<ram:DuePayableAmount>{_cents(net + tax)}</ram:DuePayableAmount>"
        "</ram:SpecifiedTradeSettlementHeaderMonetarySummation>"
        "</ram:ApplicableHeaderTradeSettlement></rsm:SupplyChainTradeTransaction>"
        "</rsm:CrossIndustryInvoice>"
    ).encode()
