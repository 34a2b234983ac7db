"""Invented documents: what each line cost is stored as a price, whatever the form."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ingest.load import FileReport, undo
from pricing.book.connect import Book
from tests.ingest.invoices.documents import CII, CREDIT_NOTE, UBL, changed, load_invoice, pdf
from tests.kitchen import load
from tests.loading import ask, only

STORED = """
    SELECT i.name, observed_on::TEXT, price, currency, pack, supplier, kind, tax_pct, product,
           o.source, o.note
    FROM observation_now o JOIN ingredient i USING (ingredient_id) ORDER BY o.line
"""


def document(report: FileReport) -> dict[str, object]:
    assert report.document is not None
    return dict(report.document)


def lines(report: FileReport) -> list[dict[str, object]]:
    found = document(report)["lines"]
    assert isinstance(found, list)
    return found


def test_what_each_line_of_a_ubl_invoice_cost(book: Book) -> None:
    """Delivery 20.00 by the lines' nets 60, 30, 10: 12, 6, 2. Off the goods at 20 %: 3, 1 of 4.00.

    Leeks 60 + 12 = 72, taxed 12 × 20 % = 2.40, which is 3.3333 % of 72. Milk 20 l at 15.50 for 10 l
    = 31, less 2, and 1 = 30; 30 + 6 − 3 = 33. The two bunches 10 + 2 − 1 = 11, 5.50 each.
    """
    report = load_invoice(book, UBL)
    assert (report.added, report.problems, report.form, report.waiting) == (3, (), "ubl", 0)
    head = ("2026-11-03",)
    seller = "Tarn Hill Provisions Ltd"
    assert ask(book, STORED) == [
        ("leek", *head, Decimal(72), "USD", "5 kg", seller, "invoice", Decimal("3.3333"),
         "Leeks", "invoice TH-2041, line 10", "item L-1, GTIN 6291041500213"),
        ("whole milk", *head, Decimal(33), "USD", "20 l", seller, "invoice", Decimal(20),
         "Whole milk, Tarn Hill", "invoice TH-2041, line 20", "item whole milk"),
        ("leek", *head, Decimal("5.50"), "USD", "1 bunch", seller, "invoice", Decimal(20),
         "leek", "invoice TH-2041, line 30", "item L-2"),
    ]  # fmt: skip
    # with tax: 72 × 1.033333 + 33 × 1.2 + 2 × 5.50 × 1.2 = 127.20, the total of the document
    paid = sum(
        count * price * (1 + tax / 100)
        for count, (_, _, price, _, _, _, _, tax, *_) in zip(
            (1, 1, 2), ask(book, STORED), strict=True
        )
    )
    assert round(paid, 2) == Decimal("127.20")


def test_a_free_line_is_told_and_is_no_price(book: Book) -> None:
    report = load_invoice(book, UBL, dry_run=True)
    assert report.remarks == (
        "1 line free of charge, no price: 'egg' (line 40).",
        "The whole invoice has 4.00 USD taken off and 20.00 USD added: each price holds its share.",
    )


def test_a_cii_invoice_with_a_return(book: Book) -> None:
    """9.00 off by the nets 60 and 30 of what was kept: 6 and 3. The crate that went back: none."""
    report = load_invoice(book, CII)
    assert (report.added, report.form) == (2, "cii")
    assert [
        (name, price, pack, tax) for name, _, price, _, pack, _, _, tax, *_ in ask(book, STORED)
    ] == [
        ("pearl barley", Decimal(54), "50 kg", Decimal(7)),
        ("whole milk", Decimal(27), "6 l", Decimal(7)),
    ]
    assert [line["cost"] for line in lines(report)] == [54.0, 27.0, -6.0]
    assert report.remarks == (
        "1 line only for information or to group others: left out.",
        "Line 1: the item number '6291041500212' is no GTIN, or its check digit is wrong; it is "
        "left out.",
        "1 line returned or taken off, no price: 'Crate, deposit back' (line 3).",
        "The whole invoice has 9.00 USD taken off: each price holds its share.",
    )


def test_the_tax_is_the_one_in_the_documents_currency(book: Book) -> None:
    told = document(load_invoice(book, CII, dry_run=True))
    assert (told["tax"], told["total"], told["payable"]) == (5.25, 80.25, 50.0)


@pytest.mark.parametrize("name", ["bill.csv", "bill.pdf", "bill"])
def test_an_invoice_inside_a_pdf_whatever_the_names(book: Book, name: str) -> None:
    report = load_invoice(book, pdf({"notes.xml": b"not XML", "a.bin": CII}), name)
    assert (report.added, report.form, report.problems) == (2, "pdf-cii", ())
    assert document(report) == document(load_invoice(book, CII, dry_run=True))


def test_a_pdf_that_is_only_locked_against_changes(book: Book) -> None:
    assert load_invoice(book, pdf({"x": UBL}, password="")).form == "pdf-ubl"


def test_a_credit_note_is_negative_and_gives_no_price(book: Book) -> None:
    report = load_invoice(book, CREDIT_NOTE)
    assert (report.added, report.load, report.problems) == (0, None, ())
    told = document(report)
    assert [told[key] for key in ("lines_net", "allowances", "net", "tax", "total", "payable")] == [
        -24.0, 0.0, -24.0, 0.0, -24.0, -24.0,
    ]  # fmt: skip
    line = lines(report)[0]
    assert (line["quantity"], line["price"], line["net"]) == (-2.0, 12.0, -24.0)
    assert report.remarks == ("A credit note gives money back: none of its lines is a price.",)


def test_a_credit_note_in_cii_is_told_by_its_code(book: Book) -> None:
    report = load_invoice(book, changed(CII, ("TypeCode>380<", "TypeCode>381<")))
    assert (report.added, document(report)["total"]) == (0, -80.25)


def test_the_same_invoice_again_and_its_undo(book: Book) -> None:
    first = load_invoice(book, UBL)
    again = load_invoice(book, pdf({"x": UBL}))
    assert (again.added, again.already) == (0, 3)
    assert first.load is not None
    assert undo(book, first.load) == 3


def test_a_dry_run_stores_nothing(book: Book) -> None:
    assert load_invoice(book, UBL, dry_run=True).added == 3
    assert ask(book, STORED) == []


def test_utf_16_is_read(book: Book) -> None:
    text = UBL.decode().replace('encoding="UTF-8"', 'encoding="UTF-16"')
    assert load_invoice(book, text.encode("utf-16"), dry_run=True).added == 3


WAITING = """
    SELECT words, sender, price, packs, pack, unit, tax_pct, item_number, gtin
    FROM tray_waiting ORDER BY line
"""


def test_an_unknown_line_waits_and_the_others_are_stored(book: Book) -> None:
    report = load_invoice(book, changed(UBL, (">Leeks<", ">Leekz, washed<")))
    assert (report.added, report.waiting, report.problems) == (2, 1, ())
    assert report.remarks[-1] == (
        "1 line waits for a decision (1 description): see `portiondrift tray`."
    )
    assert [name for name, *_ in ask(book, STORED)] == ["whole milk", "leek"]
    # the same share of delivery as above: 72 for 5 kg, which the unit states
    assert ask(book, WAITING) == [
        ("Leekz, washed", "Tarn Hill Provisions Ltd", Decimal(72), Decimal(1), "5 kg", None,
         Decimal("3.3333"), "L-1", "6291041500213"),
    ]  # fmt: skip


def test_a_service_waits_until_it_is_decided_to_be_no_ingredient(book: Book) -> None:
    data = changed(UBL, (">Leeks<", ">Delivery<"), ('"KGM"', '"HUR"'))
    report = load_invoice(book, data)
    assert (report.added, report.waiting, report.problems) == (2, 1, ())
    assert [(words, pack) for words, _, _, _, pack, *_ in ask(book, WAITING)] == [
        ("Delivery", None)
    ]
    load(book, "decisions", "words,ingredient\nDelivery,not an ingredient")
    assert ask(book, WAITING) == []
    again = load_invoice(book, data)
    assert (again.added, again.already, again.waiting) == (0, 2, 0)
    assert "1 line set aside: decided before to be no ingredient." in again.remarks


def test_a_package_that_the_kitchen_has_not_weighed_waits(book: Book) -> None:
    report = load_invoice(book, changed(UBL, ('"XBH"', '"XBX"')))
    assert (report.added, report.waiting, report.problems) == (2, 1, ())
    # its two boxes came to 11, as the two bunches above
    assert [row[:6] for row in ask(book, WAITING)] == [
        ("leek", "Tarn Hill Provisions Ltd", Decimal(11), Decimal(2), None, "box"),
    ]


def test_the_good_lines_alone(book: Book) -> None:
    """Milk at ten times its price is refused; an unknown line beside it waits all the same."""
    load(
        book,
        "prices",
        "ingredient,date,price,currency,pack,kind\nwhole milk,2026-11-02,3,USD,20 l,invoice",
    )
    data = changed(UBL, (">Leeks<", ">Delivery<"))
    assert load_invoice(book, data).load is None
    assert ask(book, WAITING) == []
    report = load_invoice(book, data, skip_bad=True)
    assert (report.added, report.waiting) == (1, 1)
    assert len(ask(book, WAITING)) == 1
    assert report.refused_text is not None
    header, row = report.refused_text.splitlines()
    assert header.startswith("ingredient,date,price,currency,pack,")
    assert header.endswith(",reason")
    assert row.startswith(
        "whole milk,2026-11-03,33.0000,USD,20 l,Tarn Hill Provisions Ltd,invoice,"
    )
    # put right, the file of refused rows loads as one of our own
    mended = load(book, "prices", report.refused_text.replace(",33.0000,", ",3.30,"))
    assert (mended.added, mended.form) == (1, "own")


def test_a_line_that_was_cut_out_is_missed_in_the_sum(book: Book) -> None:
    text = UBL.decode()
    start = text.rindex("  <cac:InvoiceLine>", 0, text.index("<cbc:ID>20</cbc:ID>"))
    end = text.index("  <cac:InvoiceLine>", start + 1)
    problem = only(load_invoice(book, (text[:start] + text[end:]).encode()))
    assert (problem.column, problem.found) == ("lines_net", "100.00 USD for its lines")
    assert problem.expected == "70.00, what they add up to"


def test_an_unusual_price_is_refused_as_from_any_file(book: Book) -> None:
    load_invoice(book, UBL)
    # ten times the price of milk: 155 for 10 l is 310, less 2, and 1 = 309; no other line changes
    dear = changed(
        UBL, (">15.50<", ">155.00<"), (">30.00<", ">309.00<"), ("TH-2041", "TH-2042"),
        (">100.00<", ">379.00<"), (">116.00<", ">395.00<"), (">127.20<", ">462.00<"),
        (">11.20<", ">67.00<"),
    )  # fmt: skip
    report = load_invoice(book, dear)
    assert [(each.line, each.column, each.code) for each in report.problems] == [
        (20, "price", "unusual-price")
    ]
    assert load_invoice(book, dear, accept_unusual=True).added == 3


def test_a_net_that_is_not_quantity_times_price_counts_and_is_told(book: Book) -> None:
    report = load_invoice(book, changed(UBL, (">12.00<", ">12.50<")))
    assert report.added == 3
    assert report.remarks[0] == (
        "Line 10: 5 × 12.50 for 1 is not 60.00, what the document says that the line comes to; "
        "that counts."
    )


def test_a_document_of_another_kind_is_no_prices_file(book: Book) -> None:
    report = load(book, "prices", "ingredient,date,price,currency,pack\nleek,2026-11-02,3,USD,1 kg")
    assert (report.form, report.document, report.waiting) == ("own", None, 0)
