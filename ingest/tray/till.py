"""Takes a till's text into the book as prices."""

from __future__ import annotations

from dataclasses import replace as changed
from datetime import date

from ingest.kinds.checked import Options
from ingest.one_file import Incoming
from ingest.report import FileReport
from ingest.till_text.read import read_till
from ingest.tray.taking import Brought, take_price_lines
from pricing.book.connect import Book, reading
from pricing.book.read import read_settings
from pricing.errors import InputRefused
from pricing.money import read_currency

TILL_TEXT = "till-text"


def take_till(
    book: Book, file: Incoming, options: Options, *, dry_run: bool, skip_bad: bool
) -> FileReport:
    """Store what a receipt's lines cost; its sum must be the total that is printed.

    Answers that count (`options.told`): day, supplier, currency. Raises InputRefused for a day that
    is none.
    """
    told = options.told
    with reading(book) as con:
        currency = told.get("currency") or read_settings(con).currency
    till = read_till(
        file.data, currency=read_currency(currency), today=options.today, day=_day(told.get("day"))
    )
    if till.problems:
        return changed(FileReport.refused(file.shown, till.problems, till.remarks), form=TILL_TEXT)
    supplier = told.get("supplier") or till.supplier
    lines = [changed(line, supplier=supplier) for line in till.lines]
    brought = Brought(form=TILL_TEXT, lines=lines, remarks=till.remarks)
    return take_price_lines(book, file, brought, options, dry_run=dry_run, skip_bad=skip_bad)


def _day(text: str | None) -> date | None:
    if text is None:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise InputRefused(
            f"Found the answer day={text}; expected a date such as 2026-11-24. Say it so."
        ) from None
