"""The command that records a printed figure."""

from __future__ import annotations

from typing import Annotated

import typer

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, read_date, the_book


def publish(
    dish: str,
    on: Annotated[
        str,
        typer.Option("--on", help="Day of publication, YYYY-MM-DD; it may lie ahead."),
    ],
    printed: Annotated[
        str | None,
        typer.Option(
            "--printed",
            help='The amount as printed: 3.50, "about 3.50". The costing by default.',
        ),
    ] = None,
    costed_on: Annotated[
        str,
        typer.Option(
            "--costed-on",
            help="Whose prices it rests on: --on unless stated, or today where that lies ahead.",
        ),
    ] = "",
    where: Annotated[str, typer.Option("--where", help="Where the figure is printed.")] = "",
    version: Annotated[str | None, typer.Option("--version")] = None,
    note: Annotated[str, typer.Option("--note")] = "",
    json: Json = False,
) -> None:
    """Record a printed figure, and keep the evidence behind it."""
    from dashboard.words.house_rules import rules_sentence
    from dashboard.words.printed import recorded_text
    from pricing.contents.settings import book_settings
    from pricing.printed.publish import record_printed

    book = the_book()
    made = record_printed(
        book,
        dish,
        on=read_date(on),
        printed=printed,
        costed_on=read_date(costed_on) if costed_on else None,
        version=version,
        where=where,
        note=note,
    )
    rules = rules_sentence(book_settings(book))
    back = f"Load {made.load}; `undo {made.load}` takes it back."
    answer(made, lambda: f"{recorded_text(made, rules)} {back}", as_json=json)
