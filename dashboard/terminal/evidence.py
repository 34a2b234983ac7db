"""The command that lays what we said beside what we know now."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, read_date, the_book
from dashboard.terminal.text_table import text_table
from dashboard.words.figures import counted, signed_money
from dashboard.words.printed import evidence_side, instant_words, printed_words
from pricing.days import day_words
from pricing.money import show_money

if TYPE_CHECKING:
    from pricing.printed.said_and_known import SaidAndKnown


def evidence(
    dish: Annotated[str | None, typer.Argument(help="All unless stated.")] = None,
    on: Annotated[str, typer.Option("--on", help="Date of publication, YYYY-MM-DD.")] = "",
    json: Json = False,
) -> None:
    """What we said when a figure was recorded, beside what we know now."""
    from pricing.printed.said_and_known import said_and_known

    book = the_book()
    found = said_and_known(book, dish, published_on=read_date(on) if on else None)
    answer(
        {"figures": [each.as_json() for each in found]},
        lambda: evidence_text(found),
        as_json=json,
    )


def evidence_text(found: Sequence[SaidAndKnown]) -> str:
    """Return what we said beside what we know now, of each figure with kept evidence."""
    if not found:
        return (
            "No figure here has kept evidence. `portiondrift publish DISH --on DATE` records a "
            "figure and keeps what it rests on."
        )
    return "\n\n".join(_one(each) for each in found)


def _one(found: SaidAndKnown) -> str:
    money = found.currency
    where = f", {found.where}" if found.where else ""
    day = day_words(found.published_on)
    seen = counted(len(found.evidence["prices"]), "price")
    amount = printed_words(found.printed, found.as_printed, money)
    head = (
        f"{found.dish}, version {found.version}, published on {day}{where}, printed at {amount}\n"
        f"We said:       {show_money(found.said, money)} a portion costed for "
        f"{day_words(found.costed_on)}, recorded {instant_words(found.recorded_at)}, on {seen}"
    )
    if found.known is None:
        return f"{head}\nWe know now:   it cannot be costed any more: {found.reason}"
    at_least = "" if found.known_complete else "at least "
    change = found.change or 0.0
    same = abs(change) < 1e-9 and not found.lines
    known = (
        f"\nWe know now:   {at_least}{show_money(found.known, money)} a portion for that same day"
    )
    if same:
        return f"{head}{known}: nothing behind it has changed."
    rows = [
        [
            line.ingredient,
            evidence_side(line.said, line.base, money),
            evidence_side(line.known, line.base, money),
            signed_money(line.change, money),
        ]
        for line in found.lines
    ]
    table = text_table(["What changed", "Said", "Known now", "Per portion"], rows, right=(3,))
    return f"{head}{known} ({signed_money(change, money)})\n\n{table}"
