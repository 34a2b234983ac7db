"""The allergens of a whole dish, by the kitchen's own ingredient records, and what changes them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from pricing.answer import Answer
from pricing.contents.allergen_words import (
    AllergenChange,
    Entered,
    Told,
    allergen_change,
    is_understood,
    once,
)
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


def allergens_of_dish(recipes: Recipes, recipe: RecipeOnDay, allergen_list: str) -> AllergensOfDish:
    """Return the allergens of a version, pantry lines and sub-recipes included."""
    records = _records(recipes, recipe)
    return AllergensOfDish(
        names=once(word for _, entered in records.values() for word in entered or ()),
        unknown=tuple(
            sorted(name for name, entered in records.values() if not is_understood(entered))
        ),
        allergen_list=allergen_list,
    )


def allergens_changed(
    recipes: Recipes, then: RecipeOnDay, now: RecipeOnDay, allergen_list: str
) -> AllergensChanged:
    """Return what the recipe of now adds to the allergens of the one of then, and removes."""
    change = allergens_beside((recipes, then), (recipes, now))
    return AllergensChanged(added=change.added, removed=change.removed, allergen_list=allergen_list)


def allergens_beside(
    first: tuple[Recipes, RecipeOnDay], other: tuple[Recipes, RecipeOnDay]
) -> AllergenChange:
    """Return what one recipe has that the other has not, and the other way; each as it was read."""
    before, after = (
        {each: entered for each, (_, entered) in _records(*recipe).items()}
        for recipe in (first, other)
    )
    gone, put = before.keys() - after.keys(), after.keys() - before.keys()
    return allergen_change(before, after, gone=gone, put=put)


def _records(recipes: Recipes, recipe: RecipeOnDay) -> dict[int, tuple[str, Entered]]:
    """Return ingredient → its name and entered allergens, of all that a recipe takes."""
    return {
        line.ingredient_id: (line.name, line.allergens)
        for line, _ in recipes.unfold(*recipe)
        if line.ingredient_id is not None
    }
