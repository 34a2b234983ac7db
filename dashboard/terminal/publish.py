"""The command that records a dish's cost as published."""

from __future__ import annotations

from typing import Annotated

import typer

from dashboard.terminal.options import Json, On
from dashboard.terminal.output import answer, read_date, the_book


def publish(
    dish: str,
    on: On,
    where: Annotated[str, typer.Option("--where", help="Where the figure is printed.")] = "",
    version: Annotated[str | None, typer.Option("--version")] = None,
    note: Annotated[str, typer.Option("--note")] = "",
    json: Json = False,
) -> None:
    """Record a dish's cost as published, and keep the evidence behind it."""
    from dashboard.words.printed import recorded_text
    from pricing.printed.publish import record_claim

    made = record_claim(the_book(), dish, on=read_date(on), version=version, where=where, note=note)
    back = f"Batch {made.batch}; `undo {made.batch}` takes it back."
    answer(made, lambda: f"{recorded_text(made)} {back}", as_json=json)
