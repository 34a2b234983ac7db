"""The allergens of a whole dish, by the kitchen's own ingredient records, and what changes them."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from pricing.answer import Answer
from pricing.book.connect import Connection
from pricing.contents.allergen_words import Entered, Told, allergen_change, is_understood, once
from pricing.dishes.recipes import Recipes, Version

RecipeOnDay = tuple[Version, date]  # with the day whose sub-recipes count


@dataclass(frozen=True, kw_only=True)
class AllergensOfDish(Answer):
    """What the records of a dish's ingredients name. It says nothing of a label or of traces."""

    names: tuple[str, ...]  # as entered, each once
    unknown: tuple[str, ...]  # ingredients without a record, or with a word nobody knows
    allergen_list: str  # eu or us: whose standard names are shown on screen


@dataclass(frozen=True, kw_only=True)
class AllergensChanged(Answer):
    """What a later recipe adds to the allergens of a dish and removes, by today's records."""

    added: Told
    removed: Told
    allergen_list: str


def allergens_of_dish(
    con: Connection, recipes: Recipes, recipe: RecipeOnDay, allergen_list: str
) -> AllergensOfDish:
    """Return the allergens of a version, pantry lines and sub-recipes included."""
    records = entered_allergens(con, recipes.per_portion(*recipe))
    return AllergensOfDish(
        names=once(word for _, entered in records.values() for word in entered or ()),
        unknown=tuple(
            sorted(name for name, entered in records.values() if not is_understood(entered))
        ),
        allergen_list=allergen_list,
    )


def allergens_changed(
    con: Connection, recipes: Recipes, then: RecipeOnDay, now: RecipeOnDay, allergen_list: str
) -> AllergensChanged:
    """Return what the recipe of now adds to the allergens of the one of then, and removes."""
    old, new = (recipes.per_portion(*recipe).keys() for recipe in (then, now))
    records = entered_allergens(con, old | new)
    before, after = ({each: records[each][1] for each in taken} for taken in (old, new))
    change = allergen_change(before, after, gone=old - new, put=new - old)
    return AllergensChanged(added=change.added, removed=change.removed, allergen_list=allergen_list)


def entered_allergens(
    con: Connection, ingredients: Collection[int] | None = None
) -> dict[int, tuple[str, Entered]]:
    """Return ingredient (of these, or every one) → its name and entered allergens."""
    found = con.execute(
        "SELECT ingredient_id, name, allergens FROM ingredient_now "
        "WHERE $ids::BIGINT[] IS NULL OR list_contains($ids::BIGINT[], ingredient_id)",
        {"ids": None if ingredients is None else list(ingredients)},
    )
    return {
        each: (name, None if words is None else tuple(words))
        for each, name, words in found.fetchall()
    }
