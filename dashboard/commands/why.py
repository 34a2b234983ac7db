"""Commands that say why costs changed: the shops, the kitchen, or the time of year."""

from __future__ import annotations

from typing import Annotated

import typer

from dashboard.commands.app import app
from dashboard.commands.options import From, Json, To
from dashboard.terminal import answer, read_date, remark, stop, the_book

Dishes = Annotated[list[str] | None, typer.Argument(help="All unless stated.")]


@app.command()
def drivers(
    then: Annotated[str, typer.Option("--then", help="Date, YYYY-MM-DD.")],
    now: Annotated[str, typer.Option("--now", help="Date, YYYY-MM-DD.")],
    dishes: Dishes = None,
    monthly: Annotated[
        bool, typer.Option("--monthly", help="Also how each price swings from month to month.")
    ] = False,
    what_if: Annotated[
        list[str] | None,
        typer.Option("--what-if", help="NAME=+20%: an ingredient or a category. Repeatable."),
    ] = None,
    json: Json = False,
) -> None:
    """Ingredients ranked by what they added to the mean cost per portion."""
    from dashboard.drivers_text import drivers_text, what_if_text
    from pricing.change.drivers import rank_drivers
    from pricing.change.what_if import cost_if
    from pricing.days import month_text
    from pricing.prices.swings import price_swings

    book, first, last = the_book(), read_date(then), read_date(now)
    found = rank_drivers(book, dishes, then=first, now=last)
    names = [each.ingredient for each in found.ingredients]
    swings = {}
    if monthly and names:
        start, end = sorted((first, last))
        listed = price_swings(book, names, start=month_text(start), end=month_text(end))
        swings = {each.ingredient: each for each in listed}
    supposed = cost_if(book, what_if, dishes, on=last) if what_if else None
    whole = found.as_json()
    if monthly:
        whole["swings"] = [each.as_json() for each in swings.values()]
    if supposed is not None:
        whole["what_if"] = supposed.as_json()
    answer(
        whole,
        lambda: (
            drivers_text(found, swings)
            + (f"\n\n{what_if_text(supposed)}" if supposed is not None else "")
        ),
        as_json=json,
    )
    if not found.complete:
        stop(1)


@app.command()
def inflation(start: From, end: To, dishes: Dishes = None, json: Json = False) -> None:
    """The kitchen's own index at fixed recipes, beside the official ones."""
    from dashboard.inflation_text import inflation_text
    from pricing.inflation.measure import measure_inflation

    found = measure_inflation(the_book(), dishes, start=start, end=end)
    for sentence in found.remarks:
        remark(sentence)
    answer(found, lambda: inflation_text(found), as_json=json)
    if not found.complete:
        stop(1)


@app.command()
def season(
    name: Annotated[str, typer.Argument(help="An ingredient; with --dish, a dish.")],
    dish: Annotated[bool, typer.Option("--dish", help="NAME is a dish.")] = False,
    json: Json = False,
) -> None:
    """In which months of the year a price is low, and how strong that pattern is."""
    from dashboard.season_text import season_text
    from pricing.season.season import season_of_dish, season_of_ingredient

    book = the_book()
    found = season_of_dish(book, name) if dish else season_of_ingredient(book, name)
    answer(found, lambda: season_text(found), as_json=json)
