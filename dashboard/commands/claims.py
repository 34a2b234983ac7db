"""Commands about published figures: check them, record one, show what one rested on."""

from __future__ import annotations

from typing import Annotated

import typer

from dashboard.commands.app import app
from dashboard.commands.options import Json, On
from dashboard.terminal import answer, read_date, stop, the_book


@app.command()
def claims(
    on: Annotated[str, typer.Option("--on", help="Date, YYYY-MM-DD; today unless stated.")] = "",
    tolerance: Annotated[
        float, typer.Option("--tolerance", help="In % of the published figure.")
    ] = 5.0,
    json: Json = False,
) -> None:
    """Check every published figure, for its own date and for today."""
    from dashboard.claims_text import claims_text
    from pricing.printed.check import check_claims

    day = read_date(on) if on else None
    found = check_claims(the_book(), on=day, tolerance_pct=tolerance)
    answer(found, lambda: claims_text(found), as_json=json)
    if not found.complete:
        stop(1)


@app.command()
def publish(
    dish: str,
    on: On,
    where: Annotated[str, typer.Option("--where", help="Where the figure is printed.")] = "",
    version: Annotated[str | None, typer.Option("--version")] = None,
    note: Annotated[str, typer.Option("--note")] = "",
    json: Json = False,
) -> None:
    """Record a dish's cost as published, and keep the evidence behind it."""
    from dashboard.claims_text import recorded_text
    from pricing.printed.publish import record_claim

    made = record_claim(the_book(), dish, on=read_date(on), version=version, where=where, note=note)
    back = f"Batch {made.batch}; `undo {made.batch}` takes it back."
    answer(made, lambda: f"{recorded_text(made)} {back}", as_json=json)


@app.command()
def evidence(
    dish: Annotated[str | None, typer.Argument(help="All unless stated.")] = None,
    on: Annotated[str, typer.Option("--on", help="Date of publication, YYYY-MM-DD.")] = "",
    json: Json = False,
) -> None:
    """What we said when a figure was recorded, beside what we know now."""
    from dashboard.claims_text import evidence_text
    from pricing.printed.said_and_known import said_and_known

    book = the_book()
    found = said_and_known(book, dish, published_on=read_date(on) if on else None)
    answer(
        {"claims": [each.as_json() for each in found]},
        lambda: evidence_text(found),
        as_json=json,
    )
