"""The command that costs dishes month by month."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import ChartFile, From, Json, Market, NotSupplier, To
from dashboard.terminal.output import answer, refuse_chart, remark, stop, the_book
from dashboard.terminal.text_table import text_table
from dashboard.words.figures import (
    figure,
    percent,
    signed_percent,
)
from pricing.days import day_words

if TYPE_CHECKING:
    from pricing.dishes.drift import DishDrift, Drift


def drift(
    start: From,
    end: To,
    dishes: Annotated[list[str] | None, typer.Argument(help="All unless stated.")] = None,
    version: Annotated[str | None, typer.Option("--version")] = None,
    chart: ChartFile = None,
    market: Market = None,
    not_supplier: NotSupplier = None,
    json: Json = False,
) -> None:
    """Cost per portion on the 15th of each month."""
    from pricing.dishes.drift import drift_points

    refuse_chart(chart)
    book = the_book()
    found = drift_points(
        book,
        dishes,
        start=start,
        end=end,
        version=version,
        market=market,
        not_supplier=not_supplier or (),
    )
    for sentence in found.remarks:
        remark(sentence)
    if chart is not None and found.dishes:
        from dashboard.terminal.chart_file import save_drift_chart

        save_drift_chart(book, found, chart)
        remark(f"Drew {chart}.")
    answer(found, lambda: drift_text(found), as_json=json)
    if not all(point.complete for dish in found.dishes for point in dish.points):
        stop(1)


def drift_text(found: Drift) -> str:
    """Return one dish month by month, or several dishes by their first and last month."""
    if not found.dishes:
        return "No month to show."
    if len(found.dishes) == 1:
        return _one_drift(found.dishes[0], found.currency)
    rows = []
    for dish in found.dishes:
        first, last = dish.points[0], dish.points[-1]
        whole = first.complete and last.complete and first.cost_per_portion > 0
        change = last.cost_per_portion / first.cost_per_portion - 1 if whole else None
        rows.append(
            [
                dish.dish,
                figure(first.cost_per_portion, first.complete, found.currency),
                figure(last.cost_per_portion, last.complete, found.currency),
                signed_percent(change),
                percent(last.share_bridged),
            ]
        )
    start, end = (found.dishes[0].points[at].month for at in (0, -1))
    return text_table(
        ["Dish", f"on {start}-15", f"on {end}-15", "Change", "Moved by an official series"],
        rows,
        right=(1, 2, 3, 4),
    )


def _one_drift(dish: DishDrift, currency: str) -> str:
    stands_still = any(f"{point.recipe_day}" != f"{point.month}-15" for point in dish.points)
    rows = [
        [
            point.month,
            point.version,
            *([day_words(point.recipe_day)] if stands_still else []),
            figure(point.cost_per_portion, point.complete, currency),
            percent(point.share_observed),
            percent(point.share_bridged),
        ]
        for point in dish.points
    ]
    headings = ["Month", "Version", *(["Recipe day"] if stands_still else [])]
    headings += ["Cost per portion", "Observed", "Moved by an official series"]
    last = len(headings)
    return f"{dish.dish}, on the 15th of each month\n\n" + text_table(
        headings, rows, right=range(last - 3, last)
    )
