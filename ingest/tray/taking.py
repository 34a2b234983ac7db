"""Takes lines with prices into the book: as prices what was decided before; the rest waits."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from dataclasses import replace as changed
from datetime import date
from decimal import Decimal
from functools import partial
from typing import Any

from ingest.brought import PriceLine
from ingest.kinds.checked import Options
from ingest.kinds.decided import DecidedWords
from ingest.kinds.kitchen import Kitchen
from ingest.kinds.price_of_line import COLUMNS, PriceOfLine, cells_of
from ingest.kinds.price_rows import future_day
from ingest.one_file import Incoming, take
from ingest.report import FileReport, Remark
from ingest.text.csv_text import RawRow, Sheet
from ingest.text.read_file import ReadFile, read_columns
from ingest.text.refused import with_unread
from ingest.text.sentences import counted
from ingest.tray.same_file import compare_with_before, read_otherwise
from pricing.book import tray
from pricing.book.append import Columns
from pricing.book.connect import Book, Connection, reading
from pricing.errors import Problem
from pricing.names import name_key

_ANY_PACK = "1 g"  # in place of the one that nobody knows yet
_AT_A_TIME = 5000
_FINEST_COUNT = Decimal("0.000001")


@dataclass(kw_only=True)
class Brought:
    """What the reader of a form made of a file."""

    form: str
    lines: Sequence[PriceLine]
    problems: Sequence[Problem] = ()
    unread: Mapping[int, str] = field(default_factory=dict)  # line → as written, of problems
    remarks: Sequence[str] = ()
    document: Mapping[str, Any] | None = None  # what an e-invoice says
    tables: Mapping[str, Columns] = field(default_factory=dict)  # to be stored with them: a layout
    figures: ReadFile | None = None  # printed figures of the same file, stored in the same load


@dataclass(kw_only=True)
class _Sorted:
    """Lines by what becomes of them."""

    rows: list[RawRow] = field(default_factory=list)  # of COLUMNS
    raws: list[str] = field(default_factory=list)  # of those rows, as they were brought
    waiting: list[PriceLine] = field(default_factory=list)
    set_aside: int = 0  # not an ingredient
    problems: list[Problem] = field(default_factory=list)  # of lines that would wait
    unread: dict[int, str] = field(default_factory=dict)  # those lines, as written


def take_price_lines(
    book: Book, file: Incoming, brought: Brought, options: Options, *, dry_run: bool, skip_bad: bool
) -> FileReport:
    """Store the prices of a file whose words are known; the other lines wait in the tray.

    A line that cannot be read, or a price that the checks of a prices file refuse, refuses the
    file, unless `skip_bad` takes the rest. In a dry run nothing is stored. Raises BookUnreadable.
    """
    with reading(book) as con:
        before = compare_with_before(con, file.data, brought.lines)
        if otherwise := read_otherwise(before):
            refused = FileReport.refused(file.shown, [otherwise], brought.remarks)
            return changed(refused, form=brought.form, document=brought.document)
        found = _sort(con, before.new, options.today)
    brought.lines = ()  # 100,000 of them take 50 MB, which the book needs next
    read = _as_brought(_read(found.rows), found.raws)
    found.rows.clear()
    if not skip_bad:
        read = read.without_cells()
    rows = changed(
        file,
        read=changed(
            read,
            sheet=with_unread(read.sheet, {**brought.unread, **found.unread}),
            problems=[*brought.problems, *found.problems, *read.problems],
        ),
        tables=brought.tables,
        tables_by=partial(_new_in_tray, lines=found.waiting, held=before.held),
        figures=brought.figures,
    )
    report = take(book, "prices", rows, options, dry_run=dry_run, skip_bad=skip_bad)
    return changed(
        report,
        form=brought.form,
        waiting=len(found.waiting),
        document=brought.document,
        remarks=(*brought.remarks, *report.remarks, *_said(found)),
    )


def _sort(con: Connection, lines: Sequence[PriceLine], today: date) -> _Sorted:
    kitchen = Kitchen(con)
    decided, priced, found = DecidedWords(con, kitchen), PriceOfLine(kitchen), _Sorted()
    for line in lines:
        known = decided.find(
            line.words, line.supplier, item_number=line.item_number, gtin=line.gtin
        )
        if known is not None and known.ingredient is None:
            found.set_aside += 1
            continue
        cells = None if known is None else priced.cells(line, known)
        if cells is None:
            found.waiting.append(line)
        else:
            found.rows.append(_raw(line.line, cells))
            found.raws.append(line.raw)
    found.problems = _never_a_price(found.waiting, today)
    bad = {each.line for each in found.problems}
    found.unread = {line.line: line.raw for line in found.waiting if line.line in bad}
    found.waiting = [line for line in found.waiting if line.line not in bad]
    return found


def _never_a_price(lines: Sequence[PriceLine], today: date) -> list[Problem]:
    """Return what keeps lines from being prices, whatever ingredient they are."""
    found: list[Problem] = []
    for start in range(0, len(lines), _AT_A_TIME):  # rows with all their cells take much memory
        found += _part_never_a_price(lines[start : start + _AT_A_TIME], today)
    return found


def _part_never_a_price(lines: Sequence[PriceLine], today: date) -> list[Problem]:
    rows = [_raw(line.line, cells_of(line, line.words, line.price, _ANY_PACK)) for line in lines]
    read = _read(rows)
    future = [
        future_day(row, today)
        for row in read.rows
        if row.value["date"] is not None and row.value["date"] > today
    ]
    return [*read.problems, *future]


def _read(rows: Sequence[RawRow]) -> ReadFile:
    read = read_columns("prices", Sheet(header=_raw(1, COLUMNS), rows=tuple(rows)))
    if not isinstance(read, ReadFile):  # our own heading is one that can be read
        raise TypeError(read)
    return read


def _as_brought(read: ReadFile, raws: Sequence[str]) -> ReadFile:
    """Return the rows to be kept with what was brought; refused ones are told in our columns."""
    rows = [changed(row, raw=raw or row.raw) for row, raw in zip(read.rows, raws, strict=True)]
    return changed(read, rows=rows)


def _raw(line: int, cells: Sequence[str]) -> RawRow:
    out = io.StringIO()
    csv.writer(out, lineterminator="").writerow(cells)
    return RawRow(line=line, raw=out.getvalue(), cells=tuple(cells))


def _new_in_tray(
    con: Connection, lines: Sequence[PriceLine], held: int
) -> tuple[dict[str, Columns], int]:
    """Return the rows of tray_line for lines that it does not hold, and how many are held.

    `held` are those of the file that were held before.
    """
    new = _not_waiting_yet(con, lines)
    return ({"tray_line": _tray_columns(new)} if new else {}), held + len(lines) - len(new)


def _not_waiting_yet(con: Connection, lines: Sequence[PriceLine]) -> list[PriceLine]:
    """Return the lines that the tray does not hold, each once."""
    if not lines:
        return []
    there = {
        (each.sender_key, each.words_key, each.observed_on, each.price, each.packs, each.pack,
         each.unit, each.currency, each.price_kind, each.tax_pct, each.region, each.product)
        for each in tray.waiting_prices(con)
    }  # fmt: skip
    new = []
    for line in lines:
        key = (
            name_key(line.supplier or ""), name_key(line.words), line.day, line.price,
            _as_kept(line.count), line.pack, line.unit, line.currency, line.kind, line.tax_pct,
            line.region, line.product,
        )  # fmt: skip
        if key not in there:
            there.add(key)
            new.append(line)
    return new


def _as_kept(count: Decimal) -> Decimal:
    return count.quantize(_FINEST_COUNT)


def _tray_columns(lines: Sequence[PriceLine]) -> dict[str, list[Any]]:
    """Return the columns of the table tray_line."""
    return {
        "line": [each.line for each in lines],
        "raw": [each.raw for each in lines],
        "sender": [each.supplier for each in lines],
        "sender_key": [name_key(each.supplier or "") for each in lines],
        "words": [each.words for each in lines],
        "words_key": [name_key(each.words) for each in lines],
        "item_number": [each.item_number for each in lines],
        "gtin": [each.gtin for each in lines],
        "observed_on": [each.day for each in lines],
        "price": [each.price for each in lines],
        "packs": [_as_kept(each.count) for each in lines],
        "pack": [each.pack for each in lines],
        "unit": [each.unit for each in lines],
        "currency": [each.currency for each in lines],
        "price_kind": [each.kind for each in lines],
        "tax_pct": [each.tax_pct for each in lines],
        "region": [each.region for each in lines],
        "product": [each.product for each in lines],
        "source": [each.source for each in lines],
        "note": [each.note for each in lines],
    }


def _said(found: _Sorted) -> list[Remark]:
    said = []
    if found.set_aside:
        said.append(
            Remark(
                f"{counted(found.set_aside, 'line')} set aside: decided before to be no "
                "ingredient.",
                would=f"{counted(found.set_aside, 'line')} would be set aside: decided before to "
                "be no ingredient.",
            )
        )
    if found.waiting:
        words = len({(each.supplier, name_key(each.words)) for each in found.waiting})
        wait = "waits" if len(found.waiting) == 1 else "wait"
        lines, many = counted(len(found.waiting), "line"), counted(words, "description")
        said.append(
            Remark(
                f"{lines} {wait} for a decision ({many}): see `portiondrift tray`.",
                would=f"{lines} would wait for a decision ({many}).",
            )
        )
    return said
