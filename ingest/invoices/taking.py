"""Takes an e-invoice into the book as prices, by the rules and checks of a prices file."""

from __future__ import annotations

from dataclasses import replace as changed

from ingest.invoices.price_lines import price_lines
from ingest.invoices.read import read_document
from ingest.kinds.checked import Options
from ingest.kinds.kitchen import Kitchen
from ingest.one_file import Incoming, take
from ingest.report import FileReport
from pricing.book.connect import Book, reading


def take_invoice(
    book: Book, file: Incoming, options: Options, *, dry_run: bool, skip_bad: bool
) -> FileReport:
    """Check a document and store its prices (not in a dry run): all of its lines, or none.

    With skip_bad those that are fine are stored. Lines that were free or went back are no prices,
    and no problems.
    """
    document = read_document(file.data)
    invoice = document.invoice
    if invoice is None:
        return changed(FileReport.refused(file.shown, document.problems), form=document.form)
    with reading(book) as con:
        lines = price_lines(invoice, Kitchen(con))
    report = FileReport(file=file.shown)
    if lines.read is not None:
        rows = changed(file, read=lines.read)
        report = take(book, "prices", rows, options, dry_run=dry_run, skip_bad=skip_bad)
    return changed(
        report,
        form=document.form,
        waiting=lines.waiting,
        document=invoice.as_json(),
        remarks=(*invoice.remarks, *lines.remarks, *report.remarks),
    )
