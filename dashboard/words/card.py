"""One dish's costing on a page: lines that add up to the total, evidence, a line to sign."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from dashboard.words.allergens import dish_allergens_words
from dashboard.words.dish import LOCAL_LAW, gaps, line_marks, recipe_day_words
from dashboard.words.document import Document, Section, Table
from dashboard.words.evidence import NOWHERE, evidence_words
from dashboard.words.figures import (
    amount_words,
    counted,
    figure,
    plain_number,
    quantity_words,
    version_words,
)
from dashboard.words.house_rules import to_print_words
from dashboard.words.line_costs import Shown, shown_costs
from pricing.answer import plain
from pricing.days import day_words
from pricing.measures.unit_price import unit_price_words
from pricing.money import round_money, show_money

if TYPE_CHECKING:
    from pricing.book.read import Settings
    from pricing.dishes.cost import DishCost
    from pricing.prices.price_line import CostLine

SIGNED = "Costed by ______________________   Checked by ______________________   Date __________"
INSIDE = "\u2003"  # before a line of a recipe inside the dish, a step each


def card_document(cost: DishCost, settings: Settings) -> Document:
    """Return the card of a dish."""
    money = cost.currency
    says = [
        f"{figure(cost.cost_per_portion, cost.complete, money)} per portion; "
        f"{figure(cost.cost_per_batch, cost.complete, money)} for "
        f"{counted(cost.portions, 'portion')}.",
    ]
    if cost.pantry_per_portion > 0:
        pantry = show_money(cost.pantry_per_portion, money)
        says.append(f"Of a portion {pantry} is from the store cupboard.")
    says += [f"{rule}." for rule in [to_print_words(cost, settings)] if rule]
    says += [f"Without a price: {name} ({why.rstrip('.')})." for name, why in gaps(cost).items()]
    return Document(
        title=cost.dish,
        under=f"{version_words(cost.version, cost.version_in_force)}, at prices of "
        f"{day_words(cost.on)}{recipe_day_words(cost)}",
        sections=[
            Section(title="Cost", says=says, tables=[_lines(cost, settings)]),
            Section(title="Prices behind it", tables=[_prices(cost, settings)]),
            Section(
                title="To know",
                listed=[dish_allergens_words(cost.allergens), LOCAL_LAW],
            ),
            Section(title="Signed", says=[SIGNED]),
        ],
    )


def _lines(cost: DishCost, settings: Settings) -> Table:
    shown = shown_costs(cost)
    rows = [row for line in cost.lines for row in _line(line, cost, settings.measures, 0, shown)]
    total = figure(cost.cost_per_batch, cost.complete, cost.currency)
    rows.append(["Total", "", "", "", total, ""])
    headings = ["Ingredient", "Recipe", "As purchased", "Price", "Cost", "Evidence"]
    return Table(headings=headings, rows=rows, right=(2, 3, 4), says="Lines, per batch")


def _line(
    line: CostLine, whole: DishCost, measures: str, depth: int, shown: Shown
) -> Iterator[list[str]]:
    name = line.ingredient.removeprefix("dish:")
    yield [
        f"{INSIDE * depth}{'↳ ' if depth else ''}{name}{line_marks(line)}",
        quantity_words(line.quantity, line.unit),
        amount_words(line.as_purchased, line.base),
        ""
        if line.lines
        else unit_price_words(line.unit_price, line.base, whole.currency, measures),
        f"{'of it ' if depth else ''}{show_money(shown.get(id(line)), whole.currency)}",
        evidence_words(line, whole.market),
    ]
    for inside in line.lines:
        yield from _line(inside, whole, measures, depth + 1, shown)


def _prices(cost: DishCost, settings: Settings) -> Table:
    rows, told = [], set()
    for line in cost.ingredient_lines():
        if line.ingredient in told:
            continue
        told.add(line.ingredient)
        for seen in line.observed:
            moved = (
                f"×{plain_number(seen.moved)} by {seen.series_title or seen.series}"
                if seen.series
                else ""
            )
            rows.append(
                [
                    line.ingredient,
                    seen.date.isoformat(),
                    " ".join(filter(None, [seen.supplier or NOWHERE, seen.product])),
                    unit_price_words(seen.unit_price, line.base, cost.currency, settings.measures),
                    moved,
                ]
            )
    headings = ["Ingredient", "Seen on", "Where", "Price as seen", "Moved"]
    return Table(headings=headings, rows=rows, right=(3,), says="Prices as they were seen")


def card_answer(cost: DishCost) -> dict[str, Any]:
    """Return what `card --json` tells: the costing, each line with its cost as it is printed."""
    shown = shown_costs(cost)
    total = round_money(cost.cost_per_batch, cost.currency)
    whole = {key: plain(cost[key]) for key in (
        "dish", "version", "version_in_force", "on", "currency", "portions", "complete",
        "cost_per_batch", "cost_per_portion",
    )}  # fmt: skip
    lines = [row for line in cost.lines for row in _told(line, cost, 0, shown)]
    return {**whole, "total": float(total), "lines": lines}


def _told(line: CostLine, whole: DishCost, depth: int, shown: Shown) -> Iterator[dict[str, Any]]:
    keys = ("ingredient", "quantity", "unit", "as_purchased", "base", "unit_price", "cost", "basis")
    printed = shown.get(id(line))
    yield {
        **{key: plain(line[key]) for key in keys},
        "printed": None if printed is None else float(printed),
        "inside": depth,
        "evidence": evidence_words(line, whole.market),
    }
    for inside in line.lines:
        yield from _told(inside, whole, depth + 1, shown)
