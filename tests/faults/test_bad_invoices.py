"""Files that are no invoice, or a broken one: one clear sentence each, and nothing is stored."""

from __future__ import annotations

import time
import zlib
from collections.abc import Iterator

import pytest

from ingest.invoices import pdf as pdf_reader
from ingest.invoices import xml_tree
from ingest.load import FileReport, load_bytes
from pricing.book.connect import Book
from pricing.errors import Problem
from tests.ingest.invoices.documents import CII, UBL, changed, load_invoice, pdf
from tests.kitchen import TODAY
from tests.loading import ask, only

BOMB = b"""<?xml version="1.0"?>
<!DOCTYPE lolz [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">
<!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;"><!ENTITY d "&c;&c;&c;&c;&c;&c;&c;&c;&c;&c;">]>
<Invoice xmlns="urn:oasis:names:specification:ubl:schema:xsd:Invoice-2">&d;&d;&d;&d;</Invoice>"""
OUTSIDE = b"""<?xml version="1.0"?>
<!DOCTYPE Invoice [<!ENTITY file SYSTEM "file:///etc/passwd">]>
<Invoice xmlns="urn:oasis:names:specification:ubl:schema:xsd:Invoice-2">&file;</Invoice>"""
EXPLODES = "XML with a document type or entities of its own"
BROKEN = "XML that breaks off or is damaged at line "
WHOLE = "a whole XML file"
NONE_INSIDE = "a PDF without an e-invoice inside"
DAMAGED = "a PDF that is damaged or not whole"
OPENS = "a PDF that can be opened"
EXPECTED = "an e-invoice of EN 16931: UBL 2.1 or UN/CEFACT CII"


@pytest.fixture(autouse=True)
def nothing_stored(book: Book) -> Iterator[None]:
    """After each of these tests the book is as it was."""
    before = ask(book, "SELECT count(*) FROM load_batch")
    yield
    assert ask(book, "SELECT count(*) FROM load_batch") == before
    assert ask(book, "SELECT count(*) FROM observation") == [(0,)]


def refused(report: FileReport) -> Problem:
    problem = only(report)
    assert report.document is None
    assert report.remarks == ()
    return problem


@pytest.mark.parametrize(
    ("data", "found", "expected"),
    [
        (BOMB, EXPLODES, "plain XML"),
        (OUTSIDE, EXPLODES, "plain XML"),
        (b"<?xml version='1.0'?><recipes/>", "XML that begins with 'recipes'", EXPECTED),
        (b"<Invoice xmlns='urn:other'/>", "XML that begins with 'Invoice'", EXPECTED),
        (UBL[: len(UBL) // 2], BROKEN, WHOLE),
        (CII[:-30], BROKEN, WHOLE),
        (UBL.replace(b"</cbc:IssueDate>", b"</cbc:Issue>"), BROKEN, WHOLE),
        (
            b"<?xml version='1.0' encoding='no-such'?><a/>",
            "XML in an encoding that cannot be read",
            "UTF-8",
        ),
        (b"<" * 50, BROKEN, WHOLE),
        (b"<a>" * 200, "XML with more than 100 elements within each other", "an invoice"),
        (pdf({}), NONE_INSIDE, EXPECTED),
        (pdf({"factur-x.xml": b"<other/>"}), NONE_INSIDE, EXPECTED),
        (pdf({"a.txt": b"leek 2.50", "b.xml": b"a,b"}), NONE_INSIDE, EXPECTED),
        (pdf({"a.xml": CII, "b.xml": UBL}), "a PDF with 2 e-invoices inside", "one"),
        (pdf({"x.xml": CII}, password="secret"), "a PDF with a password", "a PDF that opens"),
        (pdf({"x.xml": BOMB}), EXPLODES, "plain XML"),
        (b"%PDF-1.7\nnothing more", DAMAGED, OPENS),
        (pdf({"x.xml": CII})[:400], DAMAGED, OPENS),
    ],
)  # fmt: skip
def test_a_file_without_an_invoice(book: Book, data: bytes, found: str, expected: str) -> None:
    started = time.perf_counter()
    problem = refused(load_invoice(book, data))
    assert time.perf_counter() - started < 10
    assert problem.found.startswith(found)
    assert problem.expected.startswith(expected)
    assert problem.remedy.endswith(".")


@pytest.mark.parametrize(
    ("changes", "line", "column", "found"),
    [
        ([("<cbc:ID>TH-2041</cbc:ID>", "")], None, "ID", "nothing there"),
        ([(">2026-11-03<", ">03.11.2026<")], None, "IssueDate", "'03.11.2026'"),
        ([(">2026-11-03<", ">2026-02-30<")], None, "IssueDate", "'2026-02-30'"),
        ([("<cbc:RegistrationName>Tarn Hill Provisions Ltd</cbc:RegistrationName>", ""),
          ("<cbc:Name>Tarn Hill</cbc:Name>", "")], None, "RegistrationName", "nothing there"),
        ([("60.00</cbc:Line", "60,00</cbc:Line")], 10, "LineExtensionAmount", "'60,00'"),
        ([(">5</cbc:Inv", ">5E3</cbc:Inv")], 10, "InvoicedQuantity", "'5E3'"),
        ([(">5</cbc:Inv", ">NaN</cbc:Inv")], 10, "InvoicedQuantity", "'NaN'"),
        ([(">5</cbc:Inv", f">{'5' * 30}</cbc:Inv")], 10, "InvoicedQuantity", f"'{'5' * 30}'"),
        ([(">10</cbc:BaseQuantity>", ">0</cbc:BaseQuantity>")], 20, "BaseQuantity", "0"),
        ([("<cbc:Name>Leeks</cbc:Name>", "")], 10, "Name", "nothing there"),
        ([(">Leeks", ">" + "leek" * 300)], 10, "Name", "a text of 1,200 characters"),
        ([(">116.00<", ">117.00<")], None, "net",
         "117.00 USD for lines less allowances and with charges"),
        ([(">4.00</cbc:AllowanceT", ">3.00</cbc:AllowanceT")], None, "allowances",
         "3.00 USD for its allowances"),
    ],
)  # fmt: skip
def test_a_document_that_says_too_little_or_does_not_add_up(
    book: Book, changes: list[tuple[str, str]], line: int | None, column: str, found: str
) -> None:
    report = load_invoice(book, changed(UBL, *changes))
    first = report.problems[0]
    assert (first.line, first.column, first.found) == (line, column, found)
    assert first.remedy == "Ask the sender for a correct document, or log its prices by hand."
    assert (report.form, report.document, report.load) == ("ubl", None, None)


def test_a_tax_beside_that_of_the_accounts_is_named_by_its_element(book: Book) -> None:
    report = load_invoice(book, changed(CII, ('"USD">5.25</ram:TaxTotal', '"USD">?</ram:TaxTotal')))
    assert (report.problems[0].column, report.problems[0].found) == ("TaxTotalAmount", "'?'")


def test_an_invoice_without_lines(book: Book) -> None:
    text = UBL.decode()
    start = text.index("  <cac:InvoiceLine>")
    problem = refused(load_invoice(book, (text[:start] + "</Invoice>").encode()))
    assert (problem.column, problem.found) == ("lines", "an invoice without lines")


def test_xml_over_the_limit(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    assert xml_tree.LARGEST_XML == pdf_reader.LARGEST_PDF == 200 * 1024 * 1024  # as README says
    monkeypatch.setattr(xml_tree, "LARGEST_XML", 2 * 1024 * 1024)
    problem = refused(load_invoice(book, UBL + b" " * 3 * 1024 * 1024))
    assert (problem.found, problem.expected) == ("XML of 3 MB", "at most 2 MB")


def test_a_pdf_over_the_limit(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdf_reader, "LARGEST_PDF", 1024 * 1024)
    problem = refused(load_invoice(book, pdf({"x.xml": CII}) + b" " * 2 * 1024 * 1024))
    assert (problem.found, problem.expected) == ("a PDF of 2 MB", "at most 1 MB")


def test_more_elements_than_an_invoice_has(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(xml_tree, "MOST_ELEMENTS", 1000)
    data = UBL.replace(b"</Invoice>", b"<a/>" * 1000 + b"</Invoice>")
    assert refused(load_invoice(book, data)).found == "XML of more than 1,000 elements"


def test_more_rates_of_tax_than_there_are(book: Book) -> None:
    text = UBL.decode()
    start, end = text.index("  <cac:AllowanceCharge>"), text.index("  <cac:TaxTotal>")
    one = text[start : text.index("  <cac:AllowanceCharge>", start + 1)]
    many = "".join(one.replace("Percent>20<", f"Percent>{rate}<") for rate in range(60))
    report = load_invoice(book, (text[:start] + many + text[end:]).encode())
    assert (
        report.problems[0]
        .sentence()
        .startswith(
            "column AllowanceCharge: found 60 rates of tax; expected at most 50 in a document."
        )
    )


def test_an_invoice_that_is_loaded_as_another_kind(book: Book) -> None:
    problem = only(load_bytes(book, "dishes", "bill.xml", UBL, today=TODAY))
    assert problem.sentence() == (
        "found XML; expected a web page with a recipe, or a recipe's text. "
        "An e-invoice is a file of prices: load it so. Of a recipe copy the text."
    )


def test_a_pdf_whose_file_grows_when_unpacked(book: Book) -> None:
    grown = b"<a>" + b" " * 90_000_000  # 90 KB packed; pypdf stops at 75 MB
    packed = zlib.compress(grown, 9)
    data = pdf({"x.xml": b"#" * len(packed)})
    start = data.index(b"#" * len(packed))
    data = data[:start] + packed + data[start + len(packed) :]
    data = data.replace(b"/Type /EmbeddedFile", b"/Filter/FlateDecode")
    found = refused(load_invoice(book, data)).found
    assert found.startswith("a PDF with a file inside that grows without end")
