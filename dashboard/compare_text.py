"""Then and now as a cook reads it in a terminal."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from dashboard.answers import rounded_change, shown_change, signed_money
from dashboard.change_words import change_paragraph, rebased_sentences
from dashboard.text_table import text_table, wrapped
from dashboard.words import amount_words
from pricing.change.records import Comparison, IngredientChange
from pricing.days import day_words
from pricing.money import apportion, show_money

LEAST = 0.005  # half a cent: less is nothing to a reader


def compare_text(found: Comparison) -> str:
    """Return then and now: the effects in words, corners, ingredients, the old figure moved."""
    then, now, money = found.then, found.now, found.currency
    corners = found.corners
    change, by_price, by_recipe = shown_change(found)
    at_least = "" if found.complete else "At least, because a line has no price on either day.\n"
    head = (
        f"{found.dish}: version {then.version} on {day_words(then.on)}, "
        f"version {now.version} on {day_words(now.on)}\n"
        f"{at_least}{change} per portion: "
        f"{by_price} by prices, {by_recipe} by the recipe\n\n"
        f"{wrapped(change_paragraph(found))}\n\n"
    )
    square = text_table(
        ["Cost per portion", f"prices of {then.on}", f"prices of {now.on}"],
        [
            [
                f"recipe of then, version {then.version}",
                show_money(corners.then_recipe_then, money),
                show_money(corners.then_recipe_now, money),
            ],
            [
                f"recipe of now, version {now.version}",
                show_money(corners.now_recipe_then, money),
                show_money(corners.now_recipe_now, money),
            ],
        ],
        right=(1, 2),
    )
    # each column adds up to the part of the change that stands above
    _, by_price_total, by_recipe_total = rounded_change(found)
    prices = apportion([p.price_effect for p in found.ingredients], money, by_price_total)
    recipes = apportion([p.recipe_effect for p in found.ingredients], money, by_recipe_total)
    parts = text_table(
        ["Ingredient", "Then", "Now", "By price", "By recipe", "Remark"],
        [
            [
                part.ingredient,
                amount_words(part.quantity_then, part.base),
                amount_words(part.quantity_now, part.base),
                _or_dash(price, money),
                _or_dash(recipe, money),
                change_remark(part),
            ]
            for part, price, recipe in zip(found.ingredients, prices, recipes, strict=True)
        ],
        right=(1, 2, 3, 4),
    )
    sentences = [wrapped(sentence) for sentence in rebased_sentences(found)]
    return "\n".join([head + square, "", parts, "", *_split(found), *sentences]).rstrip()


def _or_dash(amount: Decimal, currency: str) -> str:
    return signed_money(float(amount), currency) if amount else "—"


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
    told = False
    for name, total, amounts in rows:
        parts = apportion(list(amounts.values()), money, total)
        shown = [
            f"{what} {signed_money(float(each), money)}"
            for what, each in zip(amounts, parts, strict=True)
            if each
        ]
        if len(shown) > 1:
            told = True
            yield f"{name}: {', '.join(shown)}"
    if told:
        yield ""


def change_remark(part: IngredientChange) -> str:
    """Return what to know of an ingredient's change: a swap, a pack, a price of one day only."""
    if part.marked:
        alone = part.unit_price_now is not None
        return "no price on one day: the other's is used" if alone else "no price on either day"
    said = []
    if part.recipe_parts and part.recipe_parts.swapped_with:
        way = "for" if part.quantity_now > 0 else "swapped for"
        said.append(f"{way} {part.recipe_parts.swapped_with}")
    if part.price_parts and abs(part.price_parts.pack) >= LEAST:
        said.append(f"{'smaller' if part.price_parts.pack > 0 else 'larger'} pack")
    return ", ".join(said)
