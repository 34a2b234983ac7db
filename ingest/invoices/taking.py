"""Takes an e-invoice into the book as prices, by the rules and checks of a prices file."""

from __future__ import annotations

from dataclasses import replace as changed

from ingest.invoices.price_lines import price_lines
from ingest.invoices.read import read_document
from ingest.kinds.checked import Options
from ingest.one_file import Incoming
from ingest.report import FileReport
from ingest.tray.taking import Brought, take_price_lines
from pricing.book.connect import Book


def take_invoice(
    book: Book, file: Incoming, options: Options, *, dry_run: bool, skip_bad: bool
) -> FileReport:
    """Check a document and store its prices (not in a dry run): all of its lines, or none.

    With skip_bad those that are fine are stored. Lines whose ingredient nobody has decided on wait
    in the tray. Lines that were free or went back are no prices, and no problems.
    """
    document = read_document(file.data)
    invoice = document.invoice
    if invoice is None:
        return changed(FileReport.refused(file.shown, document.problems), form=document.form)
    lines, remarks = price_lines(invoice)
    brought = Brought(
        form=document.form or "",
        lines=lines,
        remarks=(*invoice.remarks, *remarks),
        document=invoice.as_json(),
    )
    return take_price_lines(book, file, brought, options, dry_run=dry_run, skip_bad=skip_bad)
