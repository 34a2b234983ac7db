"""One price, swap or ingredient by hand: columns and checks are those of a row of a file."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from dataclasses import replace as changed
from datetime import date
from decimal import Decimal

from ingest.kinds.checked import Checked, Options
from ingest.kinds.kitchen import Kitchen
from ingest.kinds.price_rows import PriceRow, read_prices
from ingest.kinds.prices import places_in_book
from ingest.kinds.unusual import asked, expected_prices, is_usual
from ingest.one_file import Incoming, take
from ingest.report import FileReport
from ingest.text.columns import TABLES
from ingest.text.read_file import ReadFile, read_file
from ingest.text.rows import empty_cell
from pricing.book.append import BY_HAND
from pricing.book.connect import Book, reading
from pricing.days import day_words
from pricing.errors import Problem
from pricing.measures.unit_price import unit_price_words
from pricing.money import show_money


@dataclass(frozen=True, kw_only=True)
class PricePreview:
    """What was understood of a price before it is stored."""

    ingredient: str  # as the book writes it
    observed_on: date
    price: Decimal  # of the whole pack
    currency: str
    pack: str  # as written
    pack_in_base: float  # g, ml or each, as purchased
    base: str
    unit_price: float  # currency per base unit, with the tax
    expected: float | None  # what the book expects per base unit on that day
    unusual: bool  # under a third or over three times that
    already: bool  # the book holds this very price
    sentences: tuple[str, ...]  # all of it in words, for a terminal and a page


def add_price(
    book: Book,
    fields: Mapping[str, str],
    *,
    today: date,
    dry_run: bool = False,
    accept_unusual: bool = False,
) -> FileReport:
    """Store one price; `fields` are texts named as the columns of a prices file.

    Empty fields are left out. Problems have no line. Raises BookUnreadable.
    """
    options = Options(today=today, accept_unusual=accept_unusual)
    return _add(book, "prices", fields, options, dry_run=dry_run)


def add_swap(
    book: Book,
    fields: Mapping[str, str],
    *,
    today: date,
    dry_run: bool = False,
    replace: bool = False,
) -> FileReport:
    """Store one swap; `fields` are texts named as the columns of a swaps file, as `add_price`.

    `replace` lets it take the place of the same swap with other facts.
    """
    return _add(book, "swaps", fields, Options(today=today, replace=replace), dry_run=dry_run)


def add_ingredient(
    book: Book,
    fields: Mapping[str, str],
    *,
    today: date,
    dry_run: bool = False,
    replace: bool = False,
) -> FileReport:
    """Store the facts of one ingredient; `fields` are texts named as the columns of its file.

    `replace` lets them take the place of the facts that the book holds; a blank field leaves the
    fact out of them, and one that is not among `fields` stays as it is.
    """
    options = Options(today=today, replace=replace)
    return _add(book, "ingredients", fields, options, dry_run=dry_run, blanks=True)


def _add(
    book: Book,
    kind: str,
    fields: Mapping[str, str],
    options: Options,
    *,
    dry_run: bool,
    blanks: bool = False,
) -> FileReport:
    if problems := _nothing_given(kind, fields):
        return FileReport.refused(BY_HAND, problems)
    file = Incoming(shown=BY_HAND, name=BY_HAND, data=_as_csv(kind, fields, blanks), numbered=False)
    report = take(book, kind, file, options, dry_run=dry_run, skip_bad=False)
    return changed(report, problems=_without_lines(report.problems))


def preview_price(
    book: Book, fields: Mapping[str, str], *, today: date
) -> PricePreview | tuple[Problem, ...]:
    """Return what would be stored for these fields, or every problem. Stores nothing.

    An unusual price is a sentence of the preview, not a problem.
    """
    if missing := _nothing_given("prices", fields):
        return missing
    read = read_file("prices", _as_csv("prices", fields))
    if not isinstance(read, ReadFile):
        return _without_lines(read)
    with reading(book) as con:
        checked = Checked(problems=read.problems)
        kitchen = Kitchen(con)
        prices = read_prices(kitchen, read.rows, today, checked)
        if checked.problems or not prices:
            return _without_lines(checked.problems)
        price = prices[0]
        expected = expected_prices(con, prices).get(asked(price))
        return _preview(price, expected, kitchen.system, already=places_in_book(con, prices) == {0})


def _preview(
    price: PriceRow, expected: float | None, measures: str, *, already: bool
) -> PricePreview:
    value, pack = price.row.value, price.pack
    base, currency = pack.ingredient.base, value["currency"]
    unusual = expected is not None and not is_usual(price.unit_price, expected)
    each = unit_price_words(price.unit_price, base, currency, measures)
    where = f" at {value['supplier']}" if value["supplier"] else ""
    said = [
        f"{pack.ingredient.name}, seen on {day_words(value['date'])}{where}: "
        f"{show_money(value['price'], currency)}{price.tax_words} for {value['pack']}, "
        f"that is {each}."
    ]
    if expected is not None:
        about = unit_price_words(expected, base, currency, measures)
        said.append(
            f"That is under a third or over three times what the book expects, about {about}."
            if unusual
            else f"The book expects about {about} on that day."
        )
    if already:
        said.append("The book holds this very price already; storing it again changes nothing.")
    return PricePreview(
        ingredient=pack.ingredient.name,
        observed_on=value["date"],
        price=value["price"],
        currency=currency,
        pack=value["pack"],
        pack_in_base=pack.in_base,
        base=base,
        unit_price=price.unit_price,
        expected=expected,
        unusual=unusual,
        already=already,
        sentences=tuple(said),
    )


def _nothing_given(kind: str, fields: Mapping[str, str]) -> tuple[Problem, ...]:
    """Return the problems of a form without any text, which as a row would be a blank one."""
    if any(text.strip() for text in fields.values()):
        return ()
    return tuple(
        empty_cell(column).problem(None, column.name) for column in TABLES[kind] if column.required
    )


def _as_csv(kind: str, fields: Mapping[str, str], blanks: bool = False) -> bytes:
    """Return the fields as a file of one row. Every required column is there, empty if need be.

    Other blank fields are columns of it only with `blanks`: they then say that there is nothing.
    """
    given = {name: text for name, text in fields.items() if blanks or text.strip()}
    required = [column.name for column in TABLES[kind] if column.required]
    names = list(dict.fromkeys([*required, *given]))
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(names)
    writer.writerow([given.get(name, "") for name in names])
    return out.getvalue().encode()


def _without_lines(problems: Sequence[Problem]) -> tuple[Problem, ...]:
    return tuple(changed(problem, line=None) for problem in problems)
