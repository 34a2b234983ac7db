"""Takes any table or workbook into the book, by its sender's layout or by what was answered."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from dataclasses import replace as changed
from types import MappingProxyType

from ingest.brought import PriceLine
from ingest.kinds.checked import Options
from ingest.one_file import Incoming, take
from ingest.problem_codes import Code
from ingest.report import FileReport
from ingest.tables.grid import Grid, as_written
from ingest.tables.layout import Layout
from ingest.tables.own_columns import own_columns
from ingest.tables.price_lines import lines_of_table
from ingest.tables.printed_lines import PrintedLine, printed_of_table
from ingest.tables.propose import Proposal, propose
from ingest.tables.questions import as_problem
from ingest.tables.read import read_grids
from ingest.text.columns import TABLES
from ingest.text.csv_text import Sheet
from ingest.text.read_file import ReadFile, read_columns
from ingest.text.refused import with_unread
from ingest.text.sentences import quoted
from ingest.tray.printed_rows import printed_sheet
from ingest.tray.taking import Brought, take_price_lines
from pricing.book import tray
from pricing.book.append import Columns
from pricing.book.connect import Book, reading
from pricing.book.read import read_settings
from pricing.errors import Problem
from pricing.money import exact_money

LAID_OUT = ("prices", "printed")  # kinds whose tables may have any headings
_NONE_UNREAD: Mapping[int, str] = MappingProxyType({})
_NO_TABLES: Mapping[str, Columns] = MappingProxyType({})
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
        grids = read_grids(self.file.data)
        problems = [each for each in grids if isinstance(each, Problem)]
        sheets = [each for each in grids if isinstance(each, Grid)]
        if problems:
            return FileReport.refused(self.file.shown, problems)
        for sheet in sheets:
            own = own_columns(sheet, self.kind, self.options.told)
            if own is not None:
                return self._rows(own)
        if self.kind not in LAID_OUT:
            return FileReport.refused(self.file.shown, [_not_ours(self.kind, sheets)])
        return self._laid_out(sheets)

    def _laid_out(self, sheets: Sequence[Grid]) -> FileReport:
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
        if not found.sure:
            return _asked(self.file, found)
        return self._printed(found) if self.kind == "printed" else self._prices(found)

    def _prices(self, found: Proposal) -> FileReport:
        read = lines_of_table(found.table, found.layout, day=found.day)
        if not read.lines and not read.problems:
            return FileReport.refused(self.file.shown, [_nothing(found)], found.remarks)
        brought = Brought(
            form="table",
            lines=read.lines,
            problems=read.problems,
            unread=_unread(found, read.problems),
            remarks=(*found.remarks, *read.remarks, *_kept(found)),
            tables=_layout_rows(found),
        )
        return take_price_lines(
            self.book, self.file, brought, self.options, dry_run=self.dry_run,
            skip_bad=self.skip_bad,
        )  # fmt: skip

    def _printed(self, found: Proposal) -> FileReport:
        read = printed_of_table(found.table, found.layout, day=found.day)
        if not read.lines and not read.problems:
            return FileReport.refused(self.file.shown, [_nothing(found)], found.remarks)
        with reading(self.book) as con:
            sheet, remarks = printed_sheet(con, read.lines)
        unread = _unread(found, read.problems)
        report = self._rows(sheet, read.problems, _layout_rows(found), unread)
        said = (*found.remarks, *read.remarks, *remarks, *_kept(found))
        return changed(report, remarks=(*said, *report.remarks))

    def _rows(
        self,
        sheet: Sheet,
        problems: Sequence[Problem] = (),
        tables: Mapping[str, Columns] = _NO_TABLES,
        unread: Mapping[int, str] = _NONE_UNREAD,
    ) -> FileReport:
        """Take rows in our own columns."""
        read = read_columns(self.kind, sheet)
        if not isinstance(read, ReadFile):
            return FileReport.refused(self.file.shown, read)
        rows = changed(
            self.file,
            read=changed(
                read,
                sheet=with_unread(read.sheet, unread),
                problems=[*problems, *read.problems],
            ),
            tables=tables,
        )
        return take(
            self.book, self.kind, rows, self.options, dry_run=self.dry_run, skip_bad=self.skip_bad
        )


def _unread(found: Proposal, problems: Sequence[Problem]) -> dict[int, str]:
    """Return the rows that problems are about, as written, by their lines."""
    lines = {problem.line for problem in problems}
    return {row.line: as_written(row) for row in found.table.rows if row.line in lines}


def _asked(file: Incoming, found: Proposal) -> FileReport:
    """Return one problem that asks all, with the first lines as they would be read."""
    preview = tuple(map(_in_words, found.preview))
    said = [f"Would be read: {each}" for each in preview]
    report = FileReport.refused(file.shown, [as_problem(found.questions)], (*found.remarks, *said))
    return changed(report, questions=found.questions, preview=preview)


def _in_words(line: PriceLine | PrintedLine) -> str:
    if isinstance(line, PrintedLine):
        return (
            f"{quoted(line.dish)}, {exact_money(line.amount, line.currency)} a portion, {line.day}."
        )
    pack = f" for {line.pack}" if line.pack else ""
    return f"{quoted(line.words)}, {exact_money(line.price, line.currency)}{pack}, {line.day}."


def _layout_rows(found: Proposal) -> dict[str, Columns]:
    if found.known:
        return {}
    layout = found.layout
    return {
        "layout": {
            "line": [found.table.header],
            "raw": [None],
            "fingerprint": [layout.fingerprint],
            "kind": [layout.kind],
            "sender": [layout.sender],
            "layout": [layout.to_json()],
        }
    }


def _kept(found: Proposal) -> list[str]:
    if found.known:
        return []
    columns = ", ".join(
        f"{quoted(heading, most=30)} = {meaning.replace('_', ' ')}"
        for heading, meaning in found.layout.columns
    )
    return [f"Its columns were read so, and later tables with these headings will be: {columns}."]


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
