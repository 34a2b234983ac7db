"""The command that lays a dish then beside the dish now."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import ChartFile, Json, Market, NotSupplier, RecipeDay
from dashboard.terminal.output import answer, read_date, refuse_chart, remark, stop, the_book
from dashboard.terminal.text_table import text_table, wrapped
from dashboard.words.allergens import changed_allergens_words
from dashboard.words.change import (
    change_paragraph,
    change_remark,
    left_out_sentences,
    rebased_sentences,
    recipe_names,
    shown_change,
    state_words,
    without_words,
)
from dashboard.words.figures import amount_words, signed_money
from pricing.change.shown import ShownComparison, shown_comparison
from pricing.money import show_money

if TYPE_CHECKING:
    from pricing.change.records import Comparison, When


def compare_text(found: Comparison) -> str:
    """Return then and now: the effects in words, corners, ingredients, the old figure moved."""
    whole = shown_comparison(found)
    change, by_price, by_recipe = shown_change(found)
    without = f", {without_words(found)}" if found.left_out else ""
    days = f"{found.dish}: {state_words(found.then)}, {state_words(found.now)}"
    if not found.compared:
        reasons = left_out_sentences(found.left_out)
        return "\n".join([days, "", *map(wrapped, [change_paragraph(found), *reasons])])
    head = [
        days,
        f"{change} per portion{without}: {by_price} by prices, {by_recipe} by the recipe",
    ]
    parts = [
        "", wrapped(change_paragraph(found)), "", _corners(found), "",
        _ingredients(found, whole), "",
    ]  # fmt: skip
    sentences = [*left_out_sentences(found.left_out), *rebased_sentences(found)]
    sentences.append(changed_allergens_words(found.allergens))
    return "\n".join([*head, *parts, *_split(found, whole), *map(wrapped, sentences)]).rstrip()


def _corners(found: Comparison) -> str:
    """Return the square of both recipes at the prices of both days."""
    then, now, corners = found.then, found.now, found.corners
    costs = (
        (corners.then_recipe_then, corners.then_recipe_now),
        (corners.now_recipe_then, corners.now_recipe_now),
    )
    return text_table(
        ["Cost per portion", f"prices of {then.on}", f"prices of {now.on}"],
        [
            [recipe, *(show_money(cost, found.currency) for cost in row)]
            for recipe, row in zip(recipe_names(found), costs, strict=True)
        ],
        right=(1, 2),
    )


def _ingredients(found: Comparison, whole: ShownComparison) -> str:
    """Return what each ingredient did; a column adds up to the part of the change above it."""
    money = found.currency
    return text_table(
        ["Ingredient", "Then", "Now", "By price", "By recipe", "Remark"],
        [
            [
                part.ingredient,
                amount_words(part.quantity_then, part.base),
                amount_words(part.quantity_now, part.base),
                _or_dash(whole.prices.get(part.ingredient), money),
                _or_dash(whole.recipes.get(part.ingredient), money),
                change_remark(part, money),
            ]
            for part in found.ingredients
        ],
        right=(1, 2, 3, 4),
    )


def _or_dash(amount: Decimal | None, currency: str) -> str:
    return signed_money(amount, currency) if amount else "—"


def _split(found: Comparison, whole: ShownComparison) -> Iterator[str]:
    """Yield the two effects, each split further, where there is something to split."""
    rows = [
        (
            "By price, of the pack",
            {"sticker": whole.by_price - whole.pack, "pack size": whole.pack},
        ),
        (
            "By price, as known",
            {"seen": whole.by_price - whole.bridged, "moved": whole.bridged},
        ),
        (
            "By recipe",
            {
                "quantities": whole.recipe_part("amount"),
                "trim": whole.recipe_part("trim"),
                "portions": whole.portions,
                "added": whole.recipe_part("added"),
                "left out": whole.recipe_part("dropped"),
                "swapped": whole.recipe_part("swapped"),
            },
        ),
    ]
    any_split = False
    for name, amounts in rows:
        told = [
            f"{what} {signed_money(each, found.currency)}" for what, each in amounts.items() if each
        ]
        if len(told) > 1:
            any_split = True
            yield f"{name}: {', '.join(told)}"
    if any_split:
        yield ""


def compare(
    dish: str,
    then: Annotated[str, typer.Option("--then", help="DATE or DATE@VERSION.")],
    now: Annotated[str, typer.Option("--now", help="DATE or DATE@VERSION.")],
    recipe_day: RecipeDay = "",
    market: Market = None,
    not_supplier: NotSupplier = None,
    chart: ChartFile = None,
    json: Json = False,
) -> None:
    """Then and now: first what prices did, then what the recipe did."""
    from pricing.change.compare import compare as compare_dish

    refuse_chart(chart)
    found = compare_dish(
        the_book(),
        dish,
        then=_when(then),
        now=_when(now),
        recipe_day=read_date(recipe_day) if recipe_day else None,
        market=market,
        not_supplier=not_supplier or (),
    )
    if chart is not None and found.compared:
        from dashboard.terminal.chart_file import save_change_chart

        save_change_chart(found, chart)
        remark(f"Drew {chart}.")
    answer(found, lambda: compare_text(found), as_json=json)
    if not found.complete:
        stop(1)


def _when(text: str) -> When:
    day, at, version = text.partition("@")
    return (read_date(day), version) if at else read_date(day)
