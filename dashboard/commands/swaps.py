"""Commands about swaps: what they would save, and entering one by hand."""

from __future__ import annotations

from typing import Annotated

import typer

from dashboard.commands.app import app
from dashboard.commands.data import print_reports
from dashboard.commands.options import DryRun, Json, Replace
from dashboard.terminal import answer, read_date, stop, the_book


@app.command()
def swaps(
    dish: Annotated[str | None, typer.Argument(help="A dish; all of them unless stated.")] = None,
    on: Annotated[str, typer.Option("--on", help="Date, YYYY-MM-DD; today unless stated.")] = "",
    version: Annotated[str | None, typer.Option("--version")] = None,
    target: Annotated[
        str | None, typer.Option("--target", help="What a portion may cost: the fewest swaps.")
    ] = None,
    keep: Annotated[
        list[str] | None, typer.Option("--keep", help="An ingredient that stays. Repeatable.")
    ] = None,
    least_disturbing: Annotated[
        bool,
        typer.Option("--least-disturbing", help="Weigh changes by the disturbance you entered."),
    ] = False,
    json: Json = False,
) -> None:
    """Cheaper choices for a dish; with a target, the fewest swaps that reach it."""
    from dashboard.swaps_text import catalogue_swaps_text, swaps_text
    from pricing.clock import today
    from pricing.errors import InputRefused
    from pricing.measures.read import read_number

    book, day = the_book(), read_date(on) if on else today()
    if dish is None:
        from pricing.swaps.of_catalogue import catalogue_swaps

        if target is not None or version is not None or keep:
            raise InputRefused(
                "Found --target, --version or --keep and no dish; expected the dish they are meant "
                "for. Name it: portiondrift swaps DISH --target AMOUNT."
            )
        over_all = catalogue_swaps(book, on=day)
        answer(over_all, lambda: catalogue_swaps_text(over_all), as_json=json)
        return
    from pricing.swaps.of_dish import find_swaps

    found = find_swaps(
        book, dish, on=day, version=version, keep=keep or (), least_disturbing=least_disturbing,
        target=None if target is None else float(read_number(target)),
    )  # fmt: skip
    answer(found, lambda: swaps_text(found), as_json=json)
    if not found.complete:
        stop(1)


@app.command()
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
