"""The command that builds the demo kitchen and opens the dashboard on it."""

from __future__ import annotations

import os
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from dashboard.terminal.options import Json, Port
from dashboard.terminal.output import CHOSEN, answer, book_path
from dashboard.terminal.text_table import text_table
from dashboard.words.change import shown_change
from dashboard.words.figures import signed_percent
from pricing.days import month_words
from pricing.money import show_money

if TYPE_CHECKING:
    from pricing.change.records import Comparison
    from pricing.contents.printed import PrintedFigure


def demo(
    no_serve: Annotated[bool, typer.Option("--no-serve", help="Stop after the table.")] = False,
    port: Port = 8501,
    json: Json = False,
) -> None:
    """Build the invented demo kitchen, print then and now, open the dashboard."""
    from dashboard.demo import demo_path, make_demo, then_and_now
    from pricing.clock import today

    named = CHOSEN.book is not None or "PORTIONDRIFT_BOOK" in os.environ
    path = demo_path(book_path() if named else None)
    book = make_demo(path)
    found = then_and_now(book)
    answer(
        {"book": str(path), "dishes": [_json(figure, change) for figure, change in found]},
        lambda: demo_text(found, path, today()),
        as_json=json,
    )
    if not no_serve:
        from dashboard.terminal.server import serve as run

        run(path, port)


def _json(figure: PrintedFigure, change: Comparison) -> dict[str, Any]:
    return {
        "dish": figure.dish,
        "published_on": figure.published_on,
        "costed_on": figure.costed_on,
        "printed": figure.cost_per_portion,
        "then": change.corners.then_recipe_then,
        "now": change.corners.now_recipe_now,
        "change": change.change,
        "price_effect": change.price_effect,
        "recipe_effect": change.recipe_effect,
    }


def demo_text(found: Sequence[tuple[PrintedFigure, Comparison]], path: Path, on: date) -> str:
    """Return the dishes of the demo kitchen as first printed, then and now."""
    rows = [
        [
            figure.dish,
            month_words(figure.published_on),
            show_money(figure.cost_per_portion, change.currency),
            show_money(change.corners.then_recipe_then, change.currency),
            show_money(change.corners.now_recipe_now, change.currency),
            signed_percent(change.change / change.corners.then_recipe_then),
            *shown_change(change)[1:],
        ]
        for figure, change in found
    ]
    table = text_table(
        ["Dish", "Published", "Printed", "Then", "Now", "Change", "By price", "By recipe"],
        rows,
        right=(2, 3, 4, 5, 6, 7),
    )
    return "\n".join(
        [
            f"The demo kitchen, an invented one: cost per portion then and now ({on})",
            "",
            table,
            "",
            "Printed: as published. Then: recosted for that day. By price and by recipe add up to "
            "the change.",
            f"Cost one yourself:  portiondrift --book '{path}' cost '{rows[0][0]}' --on {on}",
        ]
    )
