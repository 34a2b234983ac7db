"""The command that costs a dish."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, read_day, stop, the_book
from dashboard.terminal.text_table import text_table, wrapped
from dashboard.words.allergens import dish_allergens_words
from dashboard.words.dish import gaps, line_marks, work_words
from dashboard.words.evidence import band_words, evidence_words
from dashboard.words.figures import (
    amount_words,
    counted,
    figure,
    percent,
    quantity_words,
    version_words,
)
from dashboard.words.line_costs import Shown, shown_costs
from pricing.days import day_words
from pricing.measures.unit_price import unit_price_words
from pricing.money import show_money

if TYPE_CHECKING:
    from pricing.dishes.cost import DishCost
    from pricing.prices.price_line import CostLine


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
    from pricing.book.read import book_settings
    from pricing.dishes.cost import cost_dish

    book = the_book()
    found = cost_dish(
        book, dish, on=read_day(on), version=version, basis=basis,
        supplier=supplier, region=region, offers=offers,
    )  # fmt: skip
    answer(found, lambda: cost_text(found, book_settings(book).measures), as_json=json)
    if not found.complete:
        stop(1)


def cost_text(cost: DishCost, measures: str) -> str:
    """Return a costing: the figure first, then its lines, then what to know about it."""
    version = version_words(cost.version, cost.version_in_force)
    batch = figure(cost.cost_per_batch, cost.complete, cost.currency)
    head = [
        f"{cost.dish}, {version}, at prices of {day_words(cost.on)}",
        f"{_per_portion(cost)}   "
        f"({batch} for {counted(cost.portions, 'portion')}; "
        f"pantry lines {show_money(cost.pantry_per_portion, cost.currency)} per portion)",
        "",
    ]
    shown = shown_costs(cost)
    rows = [
        row for line in cost.lines for row in _cost_rows(line, cost.currency, measures, 0, shown)
    ]
    table = text_table(
        ["Ingredient", "Recipe", "As purchased", "Unit price", "Cost", "Share", "Price evidence"],
        rows,
        right=(2, 3, 4, 5),
    )
    tail = []
    if cost.band is not None:
        tail += ["", wrapped(band_words(cost.band, cost.currency, complete=cost.complete))]
    tail += ["", work_words(cost)] if cost.minutes is not None else []
    tail += ["", wrapped(dish_allergens_words(cost.allergens))]
    tail += [] if cost.complete else ["", *_gaps(cost)]
    return "\n".join([*head, table, *tail])


def _per_portion(cost: DishCost) -> str:
    if all(line.basis == "missing" for line in cost.ingredient_lines()):
        return "No figure: no line has a price"
    return f"{cost.display['cost_per_portion']} per portion"


def _cost_rows(
    line: CostLine, currency: str, measures: str, depth: int, shown: Shown
) -> Iterator[list[str]]:
    name = "  " * depth + line.ingredient.removeprefix("dish:")
    yield [
        f"{name}{line_marks(line)}",
        quantity_words(line.quantity, line.unit),
        amount_words(line.as_purchased, line.base),
        "" if line.lines else unit_price_words(line.unit_price, line.base, currency, measures),
        show_money(shown.get(id(line)), currency),
        percent(line.share),
        evidence_words(line),
    ]
    for inside in line.lines:
        yield from _cost_rows(inside, currency, measures, depth + 1, shown)


def _gaps(cost: DishCost) -> list[str]:
    return [
        "At least, because these lines have no price:",
        *(f"  {ingredient}: {reason}" for ingredient, reason in gaps(cost).items()),
    ]
