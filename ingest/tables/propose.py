"""Proposes the layout of a table, and asks what neither it nor a kept layout says."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from ingest.brought import PriceLine
from ingest.report import Question
from ingest.tables.banner import banner_says
from ingest.tables.columns import NUMBERS, decide_columns
from ingest.tables.costed_lines import dish_of_table
from ingest.tables.dates import ORDERS
from ingest.tables.draft import Draft
from ingest.tables.grid import Grid
from ingest.tables.layout import Layout
from ingest.tables.price_lines import lines_of_table
from ingest.tables.printed_lines import PrintedLine, printed_of_table
from ingest.tables.settle import answer, settle_day, settle_decimal, settle_order
from ingest.tables.table import Table, best_table, find_tables
from ingest.text.sentences import quoted
from pricing.errors import InputRefused

PREVIEW = 5  # lines
ANSWERS = (
    "date", "decimal", "currency", "day", "sender", "kind", "tax", "tax_rate", "unit", "sheet",
    "price for", "words", "price", "total", "count", "unit_price", "dish", "amount",
    "published_on", "month", "portions", "state", "quantity of",
)  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Proposal:
    """How a table would be read; what is not sure is among the questions."""

    layout: Layout
    table: Table
    day: date | None  # of all lines, where no column holds one
    questions: tuple[Question, ...]
    preview: tuple[PriceLine, ...] | tuple[PrintedLine, ...]  # its first lines
    remarks: tuple[str, ...]
    known: bool  # its layout was kept from an earlier table

    @property
    def sure(self) -> bool:
        """Tell whether nothing has to be asked."""
        return not self.questions


def propose(
    grids: Sequence[Grid],
    *,
    kind: str,
    today: date,
    currency: str,
    saved: Mapping[str, Layout],
    told: Mapping[str, str],
) -> Proposal:
    """Return how a table would be read as a file of a kind: "prices", "printed", or "costed".

    `currency` is the book's own; `saved` holds the layouts kept, by fingerprint; `told` the answers
    to questions, by name. Raises InputRefused for an answer that cannot be one.
    """
    _names_known(told)
    table, kept = table_to_read(grids, kind, saved, told)
    if kept is not None and not set(told) - {"day", "sheet"}:
        return _again(table, kept, today, told)
    if kept is not None:  # what was told before, changed by what is told now
        told = {**kept.as_told(), **told}
    columns = decide_columns(table, kind, told)
    banner = banner_says(table.banner, table.headings)
    draft = Draft(columns=columns, banner=banner, own=currency, today=today, told=told)
    layout = draft.layout()
    return Proposal(
        layout=layout,
        table=table,
        day=draft.day,
        questions=tuple(each for each in draft.questions if each.default is None),
        preview=_preview(table, layout, draft.day or today),
        remarks=(*table.remarks, *columns.remarks, *_no_rate(layout), *_taken(draft.questions)),
        known=False,
    )


def _taken(questions: Sequence[Question]) -> tuple[str, ...]:
    """Say what was taken although nothing states it."""
    taken = {each.name: each.default for each in questions if each.default is not None}
    words = {
        "sender": "nobody is named as the sender",
        "kind": f"prices are of the kind {taken.get('kind')}",
        "currency": f"the currency is the book's, {taken.get('currency')}",
    }
    if not taken:
        return ()
    answers = " ".join(
        f'--answer "{each.name}={_other(each)}"' for each in questions if each.default is not None
    )
    return (
        f"Nothing in the table says otherwise: {'; '.join(words[name] for name in taken)}. To have "
        f"it otherwise, load it with {answers}.",
    )


def _other(question: Question) -> str:
    """Return what may be told instead of what was taken."""
    if question.name == "sender":
        return question.proposed or "NAME"
    return "|".join(each for each in question.choices if each != question.default) or "CODE"


def _names_known(told: Mapping[str, str]) -> None:
    for name in told:
        if name not in ANSWERS and not name.startswith("column "):
            raise InputRefused(
                f"Found {name}={told[name]}; expected one of {', '.join(ANSWERS)} or "
                "'column HEADING'. Correct the name."
            )


def _no_rate(layout: Layout) -> tuple[str, ...]:
    if layout.tax != "net" or layout.tax_rate or layout.heading_of("tax_pct"):
        return ()
    return ("Prices are before tax, and nothing states its rate; tell it as tax_rate=….",)


def table_to_read(
    grids: Sequence[Grid], kind: str, saved: Mapping[str, Layout], told: Mapping[str, str]
) -> tuple[Table, Layout | None]:
    """Return the table of a file that is read, and the layout kept of it, if there is one."""
    names = tuple(grid.name for grid in grids)
    wanted = answer(told, "sheet", names)
    chosen = [grid for grid in grids if wanted is None or grid.name == wanted]
    tables = [table for grid in chosen for table in find_tables(grid)]
    for table in tables:
        layout = saved.get(table.fingerprint)
        if layout is not None and layout.kind == kind:
            return table, layout
    return best_table(tables), None


def _again(table: Table, layout: Layout, today: date, told: Mapping[str, str]) -> Proposal:
    """Return a table as a kept layout reads it; its day is asked for where no cell holds it."""
    questions = []
    place = layout.places(table).get("date")
    banner = banner_says(table.banner, ())
    held = banner.labelled.get("date") if layout.day_from == "banner" else None
    order, doubt = settle_order(table, place, held, {})
    if not order or doubt is not None:
        order = layout.date_order or order
    if layout.date_order and order != layout.date_order:
        questions.append(_changed(layout.date_order, order))
    if doubt is not None and not layout.date_order:
        questions.append(doubt)
    layout = replace(layout, date_order=order)
    if not layout.decimal:
        places = [place for meaning, place in layout.places(table).items() if meaning in NUMBERS]
        decimal, doubt = settle_decimal(table, places, {})
        layout = replace(layout, decimal=decimal)
        questions += [doubt] if doubt is not None else []
    title = banner.tax()
    if title is not None and layout.tax and title[0] != layout.tax and "tax" not in told:
        questions.append(_other_tax(layout.tax, title))
    day = None
    if layout.day_from != "column":
        day, asked = settle_day(told, held, banner.dates, order, today)
        questions += [asked] if asked is not None else []
    return Proposal(
        layout=layout,
        table=table,
        day=day,
        questions=tuple(questions),
        preview=_preview(table, layout, day or today),
        remarks=table.remarks,
        known=True,
    )


def _changed(kept: str, now: str) -> Question:
    return Question(
        name="date",
        asks="Which comes first in a date?",
        choices=ORDERS,
        proposed=now,
        evidence=f"Earlier tables of this layout were {kept}; the dates of this one are {now}.",
    )


def _other_tax(kept: str, title: tuple[str, str]) -> Question:
    return Question(
        name="tax",
        asks="Are the prices net (before tax) or gross (with it)?",
        choices=("net", "gross"),
        proposed=title[0],
        evidence=f"Earlier tables of this layout were {kept}; above this one stands "
        f"{quoted(title[1])}.",
    )


def _preview(
    table: Table, layout: Layout, day: date
) -> tuple[PriceLine, ...] | tuple[PrintedLine, ...]:
    head = replace(table, rows=table.rows[: PREVIEW * 4])
    if layout.kind == "costed":
        return tuple(dish_of_table(table, layout, day=day).lines[:PREVIEW])
    if layout.kind == "printed":
        return tuple(printed_of_table(head, layout, day=day).lines[:PREVIEW])
    return tuple(lines_of_table(head, layout, day=day).lines[:PREVIEW])
