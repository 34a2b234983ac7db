"""Takes a table that costs one dish into the book: its prices, and what a portion cost."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from dataclasses import replace as changed
from datetime import date

from ingest.kinds.checked import Options
from ingest.one_file import Incoming
from ingest.report import FileReport, Question
from ingest.tables.costed_lines import CostedDish, dish_of_table
from ingest.tables.costed_sheet import dish_of, portions_told, told_of_month, working
from ingest.tables.grid import Grid
from ingest.tables.layout import Layout
from ingest.tables.printed_lines import PrintedLine
from ingest.tables.propose import Proposal, propose, table_to_read
from ingest.text.read_file import ReadFile, read_columns
from ingest.text.sentences import quoted
from ingest.tray.laid_out import asked, kept_words, layout_rows, unread_rows
from ingest.tray.printed_rows import printed_sheet
from ingest.tray.taking import Brought, take_price_lines
from pricing.book import known, tray
from pricing.book.connect import Book, reading
from pricing.book.read import read_settings
from pricing.errors import Problem

KIND = "costed"  # of a layout; the file is one of printed figures
_OF_THE_DISH = ("dish", "portions")  # answers that say nothing of the columns


def take_costed(
    book: Book, file: Incoming, sheets: Sequence[Grid], options: Options, *, dry_run: bool,
    skip_bad: bool,
) -> FileReport:  # fmt: skip
    """Store the prices of a costing's lines and its cost per portion as one load, or ask.

    The figure keeps the whole sheet as it is written; each price keeps its own line.
    """
    costing = _read(book, file, sheets, options)
    found, dish = costing.found, costing.dish
    if found.questions:
        return asked(file, found)
    said = [*found.remarks, *costing.said, *dish.remarks, *kept_words(found)]
    if dish.portion is None:
        return FileReport.refused(file.shown, [*dish.problems, _no_figure(costing.name)], said)
    line = PrintedLine(
        line=dish.portion_line,
        raw=working(sheets, found.table),
        dish=costing.name,
        version=None,
        day=costing.day,
        amount=dish.portion,
        currency=found.layout.currency or costing.own,
        where=None,
        note=f"by its costed lines in {file.name}",
    )
    with reading(book) as con:
        sheet, remarks = printed_sheet(con, [line])
    figures = read_columns("printed", sheet)
    if not isinstance(figures, ReadFile):  # the columns are our own
        raise TypeError(figures)
    brought = Brought(
        form="table",
        lines=[changed(each, source=f"costing of {costing.name}") for each in dish.lines],
        problems=dish.problems,
        unread=unread_rows(found, dish.problems),
        remarks=(*said, *remarks),
        tables=layout_rows(found),
        figures=figures,
    )
    return take_price_lines(book, file, brought, options, dry_run=dry_run, skip_bad=skip_bad)


@dataclass(frozen=True, kw_only=True)
class _Costing:
    """A costing as read; its proposal holds all questions about it."""

    found: Proposal
    name: str  # of the dish; "" while it is asked
    day: date
    dish: CostedDish
    own: str  # the book's currency
    said: tuple[str, ...]


def _read(book: Book, file: Incoming, sheets: Sequence[Grid], options: Options) -> _Costing:
    """Read a costing by its layout, by what stands in it and by what was told."""
    with reading(book) as con:
        kept = {key: Layout.from_json(text) for key, text in tray.layouts(con, KIND).items()}
        own = read_settings(con).currency
        dishes = [name for _, name in known.dishes(con).values()]
    table, _ = table_to_read(sheets, KIND, kept, options.told)
    month = told_of_month(table, options.told)
    told = {name: said for name, said in options.told.items() if name not in _OF_THE_DISH}
    found = propose(
        sheets, kind=KIND, today=options.today, currency=own, saved=kept, told={**told, **month}
    )
    which = dish_of(table, dishes, options.told, file.name)
    questions = list(found.questions)
    name, title = ("", None) if isinstance(which, Question) else which
    if isinstance(which, Question):
        questions.append(which)
    portions = portions_told(options.told)
    dish = dish_of_table(
        table, found.layout, day=found.day or options.today, portions=portions, dishes=dishes
    )
    if dish.portion is None and portions is None and dish.has_sum:
        questions.append(_PORTIONS)
    day = _day(found, dish)
    return _Costing(
        found=changed(found, questions=tuple(questions)),
        name=name,
        day=day or options.today,
        dish=dish,
        own=own,
        said=(*_said(name, title), *(_MONTH for _ in month)),
    )


def _day(found: Proposal, dish: CostedDish) -> date | None:
    """Return the day of a sheet: its own, else the last of its lines."""
    return found.day or max((line.day for line in dish.lines), default=None)


_MONTH = "Only a month is stated: its prices and its figure count from the first of it."
_PORTIONS = Question(
    name="portions",
    asks="For how many portions is it?",
    choices=(),
    proposed=None,
    evidence="Nothing in it states what a portion cost, or how many portions its total is for.",
)


def _said(name: str, title: str | None) -> tuple[str, ...]:
    return () if title is None else (f"Taken as the costing of {name}, by {quoted(title)}.",)


def _no_figure(name: str) -> Problem:
    return Problem(
        line=None,
        column=None,
        found=f"a costing of {quoted(name)} without a total, and with lines that no cost stands in",
        expected="the cost of a portion, a total, or a cost in every line",
        remedy="Write what a portion cost in a row below: per portion, and the amount.",
    )
