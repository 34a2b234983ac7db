"""Takes any table or workbook into the book, by its sender's layout or by what was answered."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from dataclasses import replace as changed
from functools import partial
from types import MappingProxyType

from ingest.kinds.checked import Options
from ingest.one_file import Incoming, take
from ingest.problem_codes import Code
from ingest.report import FileReport
from ingest.tables.costed_sheet import (
    is_costing,
    is_dish_costing,
    is_price_list,
    not_here,
    several_dishes,
)
from ingest.tables.grid import Grid, as_written
from ingest.tables.layout import Layout
from ingest.tables.own_columns import own_columns
from ingest.tables.price_lines import lines_of_table
from ingest.tables.printed_lines import printed_of_table
from ingest.tables.propose import Proposal, propose, table_to_read
from ingest.tables.read import read_grids
from ingest.tables.table import Table
from ingest.text.columns import TABLES
from ingest.text.csv_text import Sheet
from ingest.text.read_file import ReadFile, read_columns
from ingest.text.refused import with_unread
from ingest.text.sentences import quoted
from ingest.tray.costed import take_costed
from ingest.tray.laid_out import asked, kept_words, layout_rows, unread_rows
from ingest.tray.no_table import no_table_of
from ingest.tray.printed_rows import printed_sheet
from ingest.tray.taking import Brought, take_price_lines
from pricing.book import tray
from pricing.book.append import Columns
from pricing.book.connect import Book, reading
from pricing.book.read import read_settings
from pricing.errors import Problem

LAID_OUT = ("prices", "printed")  # kinds whose tables may have any headings
_NONE_UNREAD: Mapping[int, str] = MappingProxyType({})
_NO_TABLES: Mapping[str, Columns] = MappingProxyType({})
_Storing = Callable[[], FileReport]
_WORKBOOK_STARTS = (b"PK", b"\xd0\xcf\x11\xe0")


def take_table(
    book: Book, kind: str, file: Incoming, options: Options, *, dry_run: bool, skip_bad: bool
) -> FileReport:
    """Store what a table says, or ask once what it does not say: then nothing is stored.

    Answers that count (`options.told`) are those of `tables.propose`. A layout is kept with the
    first file that is read by it, and used for later ones without asking.
    """
    taking = _Taking(
        book=book, kind=kind, file=file, options=options, dry_run=dry_run, skip_bad=skip_bad
    )
    form = "workbook" if file.data.startswith(_WORKBOOK_STARTS) else "table"
    return changed(taking.take(), form=form)


@dataclass(frozen=True, kw_only=True)
class _Taking:
    book: Book
    kind: str
    file: Incoming
    options: Options
    dry_run: bool
    skip_bad: bool

    def take(self) -> FileReport:
        """Store what was read; the sheets themselves, which may be large, are gone by then."""
        read = self._read()
        return read if isinstance(read, FileReport) else read()

    def _read(self) -> FileReport | _Storing:
        grids = read_grids(self.file.data)
        problems = [each for each in grids if isinstance(each, Problem)]
        sheets = [each for each in grids if isinstance(each, Grid)]
        if problems:
            return FileReport.refused(self.file.shown, problems)
        for sheet in sheets:
            own = own_columns(sheet, self.kind, self.options.told)
            if own is not None:
                return partial(self._rows, own)
        if self.kind in LAID_OUT:
            table, _ = table_to_read(sheets, "costed", {}, {})
            if is_costing(table, self.options.told) and self._is_meant(table):
                return self._costed(sheets, table)
        if self.kind not in LAID_OUT:
            return FileReport.refused(self.file.shown, [_not_ours(self.kind, sheets)])
        return self._laid_out(sheets)

    def _laid_out(self, sheets: Sequence[Grid]) -> FileReport | _Storing:
        with reading(self.book) as con:
            kept = tray.layouts(con, self.kind)
            currency = read_settings(con).currency
        found = propose(
            sheets,
            kind=self.kind,
            today=self.options.today,
            currency=currency,
            saved={each: Layout.from_json(text) for each, text in kept.items()},
            told=self.options.told,
        )
        if found.table.header is None and all(len(each.cells) < 2 for each in found.table.rows):
            return FileReport.refused(self.file.shown, [_no_columns(found, self.kind)])
        if self.kind == "printed" and is_price_list(found.table):
            return FileReport.refused(self.file.shown, [not_here("prices", found.table)])
        if not found.sure:
            other = no_table_of(self.kind, self.file.data, self.file.name, found)
            if other is not None:
                return FileReport.refused(self.file.shown, [other], found.table.remarks)
            return asked(self.file, found)
        return self._printed(found) if self.kind == "printed" else self._prices(found)

    def _is_meant(self, table: Table) -> bool:
        """Tell whether a table that may cost a dish does: a receipt has the same columns."""
        return self.kind == "printed" or is_dish_costing(table)

    def _costed(self, sheets: Sequence[Grid], table: Table) -> FileReport:
        if self.kind == "prices":
            return FileReport.refused(self.file.shown, [not_here("printed", table)])
        several = several_dishes(table)
        if several is not None:
            return FileReport.refused(self.file.shown, [several])
        return take_costed(
            self.book, self.file, sheets, self.options, dry_run=self.dry_run,
            skip_bad=self.skip_bad,
        )  # fmt: skip

    def _prices(self, found: Proposal) -> FileReport | _Storing:
        read = lines_of_table(found.table, found.layout, day=found.day)
        if not read.lines and not read.problems:
            return FileReport.refused(self.file.shown, [_nothing(found)], found.remarks)
        brought = Brought(
            form="table",
            lines=read.lines,
            problems=read.problems,
            unread=unread_rows(found, read.problems),
            remarks=(*found.remarks, *read.remarks, *kept_words(found)),
            tables=layout_rows(found),
        )
        return partial(
            take_price_lines, self.book, self.file, brought, self.options,
            dry_run=self.dry_run, skip_bad=self.skip_bad,
        )  # fmt: skip

    def _printed(self, found: Proposal) -> FileReport | _Storing:
        read = printed_of_table(found.table, found.layout, day=found.day)
        if not read.lines and not read.problems:
            return FileReport.refused(self.file.shown, [_nothing(found)], found.remarks)
        with reading(self.book) as con:
            sheet, remarks = printed_sheet(con, read.lines)
        said = (*found.remarks, *read.remarks, *remarks, *kept_words(found))
        return partial(
            self._rows, sheet, read.problems, layout_rows(found),
            unread_rows(found, read.problems), said,
        )  # fmt: skip

    def _rows(
        self,
        sheet: Sheet,
        problems: Sequence[Problem] = (),
        tables: Mapping[str, Columns] = _NO_TABLES,
        unread: Mapping[int, str] = _NONE_UNREAD,
        said: Sequence[str] = (),
    ) -> FileReport:
        """Take rows in our own columns."""
        read = read_columns(self.kind, sheet)
        if not isinstance(read, ReadFile):
            return FileReport.refused(self.file.shown, read, said)
        rows = changed(
            self.file,
            read=changed(
                read,
                sheet=with_unread(read.sheet, unread),
                problems=[*problems, *read.problems],
            ),
            tables=tables,
        )
        report = take(
            self.book, self.kind, rows, self.options, dry_run=self.dry_run, skip_bad=self.skip_bad
        )
        return changed(report, remarks=(*said, *report.remarks))


def _nothing(found: Proposal) -> Problem:
    return Problem(
        line=None,
        column=None,
        found="a table without a line that can be read",
        expected="a description and a price in its lines, or a dish and an amount",
        remedy='Check which table was saved; name its columns with --answer "column HEADING=…".',
        code=Code.NO_LINE,
    )


def _no_columns(found: Proposal, kind: str) -> Problem:
    first = as_written(found.table.rows[0]) if found.table.rows else ""
    of = "prices" if kind == "prices" else "printed figures"
    forms = ", an e-invoice or a receipt" if kind == "prices" else ""
    return Problem(
        line=None,
        column=None,
        found=f"a text without columns, which begins with {quoted(first)}",
        expected=f"{of} in a table or a workbook{forms}",
        remedy="Check which file was saved; recipes are loaded as dishes.",
    )


def _not_ours(kind: str, sheets: Sequence[Grid]) -> Problem:
    required = ", ".join(column.name for column in TABLES[kind] if column.required)
    first = as_written(sheets[0].rows[0]) if sheets and sheets[0].rows else ""
    return Problem(
        line=None,
        column=None,
        found=f"a table that begins with {quoted(first)}",
        expected=f"a header with {required}",
        remedy="Name the columns so. Any headings are read in files of prices and of printed "
        "figures.",
    )
