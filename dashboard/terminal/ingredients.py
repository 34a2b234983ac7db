"""The command that lists the ingredients of the book."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, the_book
from dashboard.terminal.text_table import text_table
from dashboard.words.figures import counted

if TYPE_CHECKING:
    from pricing.contents.choices import ListedIngredient


def ingredients(json: Json = False) -> None:
    """List the ingredients of the book, with how much is known of their prices."""
    from pricing.contents.choices import list_ingredients

    found = list_ingredients(the_book())
    answer(
        {"ingredients": [ingredient_json(each) for each in found]},
        lambda: ingredients_text(found),
        as_json=json,
    )


def ingredient_json(each: ListedIngredient) -> dict[str, object]:
    """Return what is told of an ingredient; its number inside the book is nobody's business."""
    told = each.as_json()
    del told["ingredient_id"]
    return told


def ingredients_text(found: Sequence[ListedIngredient]) -> str:
    """Return a line for each ingredient, by name."""
    if not found:
        return "The book has no ingredients. Load them with `portiondrift load ingredients FILE`."
    rows = [
        [
            each.ingredient,
            each.category or "",
            each.base,
            str(each.prices),
            each.last_on.isoformat() if each.last_on else "never priced",
            each.series_title or each.series or "",
        ]
        for each in found
    ]
    table = text_table(
        ["Ingredient", "Category", "Base", "Prices", "Last seen", "Series"], rows, right=(3,)
    )
    return f"{table}\n\n{counted(len(found), 'ingredient')}"
