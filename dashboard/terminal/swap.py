"""The command that enters one swap by hand."""

from __future__ import annotations

from typing import Annotated

import typer

from dashboard.terminal.options import DryRun, Json, Replace
from dashboard.terminal.output import the_book
from dashboard.terminal.reports import print_reports


def swap(
    ingredient: str,
    substitute: Annotated[
        str, typer.Argument(help='An ingredient, "dish:NAME", or "leave out" (ratio 0).')
    ],
    ratio: Annotated[
        str, typer.Argument(help="As purchased: of the substitute per g, ml or each.")
    ],
    note: Annotated[str, typer.Option("--note")] = "",
    edible: Annotated[
        bool, typer.Option("--edible", help="The ratio is of edible portions: yields turn it.")
    ] = False,
    supplier: Annotated[str, typer.Option("--supplier", help="Of the substitute.")] = "",
    product: Annotated[str, typer.Option("--product")] = "",
    pack: Annotated[str, typer.Option("--pack")] = "",
    works_in: Annotated[
        str, typer.Option("--works-in", help="Dishes or group:NAME, with ; between them.")
    ] = "",
    not_in: Annotated[str, typer.Option("--not-in")] = "",
    not_with: Annotated[
        str, typer.Option("--not-with", help="Substitutes it cannot be combined with.")
    ] = "",
    only_with: Annotated[str, typer.Option("--only-with", help="It needs one of these.")] = "",
    disturbance: Annotated[
        str, typer.Option("--disturbance", help="What this change costs you; 1 unless stated.")
    ] = "",
    dry_run: DryRun = False,
    replace: Replace = False,
    json: Json = False,
) -> None:
    """Enter one swap by hand."""
    from ingest.load import add_swap
    from pricing.clock import today

    fields = {
        "ingredient": ingredient, "substitute": substitute, "ratio": ratio, "note": note,
        "ratio_state": "edible" if edible else "", "supplier": supplier, "product": product,
        "pack": pack, "works_in": works_in, "not_in": not_in, "not_with": not_with,
        "only_with": only_with, "disturbance": disturbance,
    }  # fmt: skip
    report = add_swap(the_book(), fields, today=today(), dry_run=dry_run, replace=replace)
    print_reports([report], json, dry_run=dry_run)
