"""The command that moves an amount by an official series."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import From, Json, To
from dashboard.terminal.output import answer, the_book
from pricing.days import month_words
from pricing.money import show_money

if TYPE_CHECKING:
    from pricing.series.rebase import Rebased


def rebase(
    amount: str,
    start: From,
    end: To,
    series: Annotated[str, typer.Option("--series", help="Such as us-bls:SAF11.")],
    json: Json = False,
) -> None:
    """Move an amount from one month to another by an official series."""
    from pricing.contents.settings import book_settings
    from pricing.days import read_month
    from pricing.measures.read import read_number
    from pricing.series.rebase import rebase as move

    book = the_book()
    found = move(
        book,
        float(read_number(amount)),
        start=read_month(start),
        end=read_month(end),
        series=series,
    )
    answer(found, lambda: rebase_text(found, book_settings(book).currency), as_json=json)


def rebase_text(found: Rebased, currency: str) -> str:
    """Return an amount then and now, and the index behind it."""
    marks = []
    if found.held_at:
        marks.append(f"The series is held at its last month, {month_words(found.held_at)}.")
    marks += [
        f"{month_words(each)} was not published; the month before stands in."
        for each in found.filled
    ]
    if found.frequency == "quarterly":
        marks.append("The office publishes by the quarter: each month carries its quarter's value.")
    if found.approximate:
        marks.append("An approximate link: the two series do not cover the same goods.")
    if found.note:
        marks.append(f"Made of: {found.note}.")
    return "\n".join(
        [
            f"{show_money(found.amount, currency)} of {month_words(found.from_month)} is "
            f"{show_money(found.result, currency)} in {month_words(found.to_month)}",
            f"by {found.title or found.series} ({found.series}): "
            f"{found.index_from:g} → {found.index_to:g}, ×{found.factor:.4f}",
            *marks,
        ]
    )
