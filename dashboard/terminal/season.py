"""The command that says in which months of the year a price is low."""

from __future__ import annotations

import calendar
from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import ChartFile, Json
from dashboard.terminal.output import answer, refuse_chart, remark, the_book
from dashboard.terminal.text_table import text_table, wrapped
from dashboard.words.figures import percent
from dashboard.words.season import (
    against_year,
    pattern_cells,
    rests_on,
    season_sentence,
    strength_words,
)

if TYPE_CHECKING:
    from pricing.season.season import Season


def season(
    name: Annotated[str, typer.Argument(help="An ingredient; with --dish, a dish.")],
    dish: Annotated[bool, typer.Option("--dish", help="NAME is a dish.")] = False,
    chart: ChartFile = None,
    json: Json = False,
) -> None:
    """In which months of the year a price is low, and how strong that pattern is."""
    from pricing.season.season import season_of_dish, season_of_ingredient

    refuse_chart(chart)
    book = the_book()
    found = season_of_dish(book, name) if dish else season_of_ingredient(book, name)
    if chart is not None:
        from dashboard.terminal.chart_file import save_season_chart

        save_season_chart(book, found, chart)
        remark(f"Drew {chart}.")
    answer(found, lambda: season_text(found), as_json=json)


def season_text(found: Season) -> str:
    """Return the months of the year, how far to trust them, and what they rest on."""
    table = text_table(
        ["Month", "Against the year"],
        [
            [calendar.month_name[m + 1], against_year(relative)]
            for m, relative in enumerate(found.relatives)
        ],
        right=(1,),
    )
    parts = [wrapped(season_sentence(found)), wrapped(f"{strength_words(found)} {rests_on(found)}")]
    if found.parts:
        rows = [
            [part.ingredient, percent(part.share), *pattern_cells(part)] for part in found.parts
        ]
        columns = ["Ingredient", "Share", "Cheapest", "Swing", "Pattern", "By"]
        parts += ["", text_table(columns, rows, right=(1, 3))]
    return "\n".join([*parts[:2], "", table, *parts[2:]])
