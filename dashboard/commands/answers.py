"""Commands that cost dishes."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from dashboard.commands.app import app
from dashboard.commands.options import From, Json, To
from dashboard.terminal import answer, read_date, remark, stop, the_book


@app.command()
def cost(
    dish: str,
    on: Annotated[str, typer.Option("--on", help="Date, YYYY-MM-DD; today unless stated.")] = "",
    version: Annotated[str | None, typer.Option("--version")] = None,
    basis: Annotated[str, typer.Option("--basis", help="bridged or observed.")] = "bridged",
    supplier: Annotated[str | None, typer.Option("--supplier")] = None,
    region: Annotated[str | None, typer.Option("--region")] = None,
    offers: Annotated[bool, typer.Option("--offers", help="Let offers count.")] = False,
    json: Json = False,
) -> None:
    """Cost a dish at the prices of a date."""
    from dashboard.answers import cost_text
    from pricing.contents.settings import book_settings
    from pricing.clock import today
    from pricing.dishes.cost import cost_dish

    book = the_book()
    found = cost_dish(
        book, dish, on=read_date(on) if on else today(), version=version, basis=basis,
        supplier=supplier, region=region, offers=offers,
    )  # fmt: skip
    answer(found, lambda: cost_text(found, book_settings(book).measures), as_json=json)
    if not found.complete:
        stop(1)


@app.command()
def drift(
    start: From,
    end: To,
    dishes: Annotated[list[str] | None, typer.Argument(help="All unless stated.")] = None,
    version: Annotated[str | None, typer.Option("--version")] = None,
    chart: Annotated[
        Path | None, typer.Option("--chart", help="Also draw it: FILE.svg, .png or .html.")
    ] = None,
    json: Json = False,
) -> None:
    """Cost per portion on the 15th of each month."""
    from dashboard.answers import drift_text
    from pricing.dishes.drift import drift_points

    if chart is not None:
        from dashboard.charts.save import refuse_format

        refuse_format(chart)
    book = the_book()
    found = drift_points(book, dishes, start=start, end=end, version=version)
    for sentence in found.remarks:
        remark(sentence)
    if chart is not None and found.dishes:
        from dashboard.charts.save import save_drift_chart

        save_drift_chart(found, chart)
        remark(f"Drew {chart}.")
    answer(found, lambda: drift_text(found), as_json=json)
    if not all(point.complete for dish in found.dishes for point in dish.points):
        stop(1)


@app.command()
def compare(
    dish: str,
    then: Annotated[str, typer.Option("--then", help="DATE or DATE@VERSION.")],
    now: Annotated[str, typer.Option("--now", help="DATE or DATE@VERSION.")],
    json: Json = False,
) -> None:
    """Then and now: what is prices, what is the recipe."""
    from dashboard.compare_text import compare_text
    from pricing.change.compare import compare as compare_dish

    found = compare_dish(the_book(), dish, then=_when(then), now=_when(now))
    answer(found, lambda: compare_text(found), as_json=json)
    if not found.complete:
        stop(1)


def _when(text: str) -> object:
    day, at, version = text.partition("@")
    return (read_date(day), version) if at else read_date(day)


@app.command()
def rebase(
    amount: str,
    start: From,
    end: To,
    series: Annotated[str, typer.Option("--series", help="Such as us-bls:SAF11.")],
    json: Json = False,
) -> None:
    """Move an amount from one month to another by an official series."""
    from dashboard.answers import rebase_text
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
