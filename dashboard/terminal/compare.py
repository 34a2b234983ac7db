"""The command that lays a dish then beside the dish now."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, read_date, stop, the_book
from dashboard.terminal.text_table import text_table, wrapped
from dashboard.words.allergens import changed_allergens_words
from dashboard.words.change import (
    change_paragraph,
    change_remark,
    rebased_sentences,
    rounded_change,
    shown_change,
)
from dashboard.words.figures import amount_words, signed_money
from pricing.days import day_words
from pricing.money import apportion, show_money

if TYPE_CHECKING:
    from pricing.change.records import Comparison, When


def compare_text(found: Comparison) -> str:
    """Return then and now: the effects in words, corners, ingredients, the old figure moved."""
    then, now = found.then, found.now
    change, by_price, by_recipe = shown_change(found)
    head = [
        f"{found.dish}: version {then.version} on {day_words(then.on)}, "
        f"version {now.version} on {day_words(now.on)}",
        *([] if found.complete else ["At least, because a line has no price on either day."]),
        f"{change} per portion: {by_price} by prices, {by_recipe} by the recipe",
    ]
    parts = ["", wrapped(change_paragraph(found)), "", _corners(found), "", _ingredients(found), ""]
    sentences = [wrapped(sentence) for sentence in rebased_sentences(found)]
    sentences.append(wrapped(changed_allergens_words(found.allergens)))
    return "\n".join([*head, *parts, *_split(found), *sentences])


def _corners(found: Comparison) -> str:
    """Return the square of both recipes at the prices of both days."""
    then, now, corners = found.then, found.now, found.corners
    rows = (
        ("then", then, (corners.then_recipe_then, corners.then_recipe_now)),
        ("now", now, (corners.now_recipe_then, corners.now_recipe_now)),
    )
    return text_table(
        ["Cost per portion", f"prices of {then.on}", f"prices of {now.on}"],
        [
            [
                f"recipe of {when}, version {side.version}",
                *(show_money(cost, found.currency) for cost in costs),
            ]
            for when, side, costs in rows
        ],
        right=(1, 2),
    )


def _ingredients(found: Comparison) -> str:
    """Return what each ingredient did; a column adds up to the part of the change above it."""
    money = found.currency
    _, by_price, by_recipe = rounded_change(found)
    prices = apportion([part.price_effect for part in found.ingredients], money, by_price)
    recipes = apportion([part.recipe_effect for part in found.ingredients], money, by_recipe)
    return text_table(
        ["Ingredient", "Then", "Now", "By price", "By recipe", "Remark"],
        [
            [
                part.ingredient,
                amount_words(part.quantity_then, part.base),
                amount_words(part.quantity_now, part.base),
                _or_dash(price, money),
                _or_dash(recipe, money),
                change_remark(part, money),
            ]
            for part, price, recipe in zip(found.ingredients, prices, recipes, strict=True)
        ],
        right=(1, 2, 3, 4),
    )


def _or_dash(amount: Decimal, currency: str) -> str:
    return signed_money(amount, currency) if amount else "—"


def _split(found: Comparison) -> Iterator[str]:
    """Yield the two effects, each split further, where there is something to split."""
    money, prices, recipe = found.currency, found.price_parts, found.recipe_parts
    _, by_price, by_recipe = rounded_change(found)
    rows = [
        ("By price, of the pack", by_price, {"sticker": prices.sticker, "pack size": prices.pack}),
        ("By price, as known", by_price, {"seen": prices.seen, "moved": prices.bridged}),
        (
            "By recipe",
            by_recipe,
            {
                "quantities": recipe.amount,
                "trim": recipe.trim,
                "portions": recipe.portions,
                "added": recipe.added,
                "left out": recipe.dropped,
                "swapped": recipe.swapped,
            },
        ),
    ]
    any_split = False
    for name, total, amounts in rows:
        parts = apportion(list(amounts.values()), money, total)
        shown = [
            f"{what} {signed_money(each, money)}"
            for what, each in zip(amounts, parts, strict=True)
            if each
        ]
        if len(shown) > 1:
            any_split = True
            yield f"{name}: {', '.join(shown)}"
    if any_split:
        yield ""


def compare(
    dish: str,
    then: Annotated[str, typer.Option("--then", help="DATE or DATE@VERSION.")],
    now: Annotated[str, typer.Option("--now", help="DATE or DATE@VERSION.")],
    json: Json = False,
) -> None:
    """Then and now: what is prices, what is the recipe."""
    from pricing.change.compare import compare as compare_dish

    found = compare_dish(the_book(), dish, then=_when(then), now=_when(now))
    answer(found, lambda: compare_text(found), as_json=json)
    if not found.complete:
        stop(1)


def _when(text: str) -> When:
    day, at, version = text.partition("@")
    return (read_date(day), version) if at else read_date(day)
