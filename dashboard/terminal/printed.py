"""The command that checks every printed figure."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, read_date, stop, the_book
from dashboard.terminal.text_table import text_table, wrapped
from dashboard.words.figures import signed_rate
from dashboard.words.printed import (
    COLUMNS_MEAN,
    correction,
    gap_words,
    lacking_words,
    many_words,
    out_words,
    printed_words,
)
from pricing.days import day_words
from pricing.money import show_money

if TYPE_CHECKING:
    from pricing.printed.records import CheckedFigure, CheckedFigures


def printed(
    on: Annotated[str, typer.Option("--on", help="Date, YYYY-MM-DD; today unless stated.")] = "",
    tolerance: Annotated[
        float | None,
        typer.Option("--tolerance", help="In % of the printed figure; the house's unless stated."),
    ] = None,
    json: Json = False,
) -> None:
    """Check every printed figure: right when it was costed, and does it hold now."""
    from pricing.printed.check import check_printed

    day = read_date(on) if on else None
    found = check_printed(the_book(), on=day, tolerance_pct=tolerance)
    answer(found, lambda: printed_text(found), as_json=json)
    if not found.complete:
        stop(1)


def printed_text(found: CheckedFigures) -> str:
    """Return every figure, those that mislead most first, then what to correct and what lacks."""
    if not found.figures:
        return (
            f"The book has no printed figure costed on or before {day_words(found.on)}. Load them "
            "with `portiondrift load printed FILE`, or record one with `portiondrift publish`."
        )
    parts = [many_words(found), ""]
    if found.in_force:
        parts += [_table(found.in_force, found.on), ""]
    if found.superseded:
        parts += ["Superseded: a later figure of the same dish was published.", ""]
        parts += [_table(found.superseded, found.on, replaced=True), ""]
    parts += [wrapped(COLUMNS_MEAN), *_wrong(found), *_lacking(found)]
    return "\n".join(parts)


def _table(figures: Sequence[CheckedFigure], on: date, *, replaced: bool = False) -> str:
    headings = [
        "Dish", "Version", "Published", "Costed for", "Printed", "Cost then", "Then", "Costs now",
        "Off now", "Now", "By food", "By all items",
    ]  # fmt: skip
    rows = [
        [
            figure.dish,
            figure.version,
            f"{figure.published_on}{out_words(figure.published_on, on)}",
            str(figure.costed_on),
            printed_words(figure.printed, figure.as_printed, figure.currency),
            show_money(figure.known_then, figure.currency),
            figure.then,
            show_money(figure.recosted_now, figure.currency),
            signed_rate(figure.off_now_pct),
            figure.now,
            show_money(figure.rebased_food, figure.currency),
            show_money(figure.rebased_all, figure.currency),
            *([str(figure.superseded_by)] if replaced else []),
        ]
        for figure in figures
    ]
    return text_table(
        headings + (["Replaced on"] if replaced else []), rows, right=(4, 5, 7, 8, 10, 11)
    )


def _wrong(found: CheckedFigures) -> list[str]:
    return [
        line
        for figure in found.in_force
        if figure.then == "differs"
        for line in ("", wrapped(correction(figure, found.on)))
    ]


def _lacking(found: CheckedFigures) -> list[str]:
    lines = []
    for figure in found.figures:
        if not figure.priced:
            lines += ["", f"{lacking_words(figure)}:"]
            lines += [f"  {gap_words(gap)}" for gap in figure.gaps]
    return lines
