"""A recipe with another dish inside it in place of one, or with a dish beside it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from pricing.book.connect import Connection
from pricing.dishes.recipes import Line, Recipes, Version, find_dish, read_recipes
from pricing.errors import InputRefused
from pricing.measures.read import read_number

_PREFIX = "dish:"


@dataclass(frozen=True, kw_only=True)
class Exchange:
    """All that takes one dish takes as much of another: portions, batches or g."""

    dish: str
    instead: str


@dataclass(frozen=True, kw_only=True)
class Addition:
    """A dish goes with every portion."""

    dish: str
    amount: str = "1 portion"  # for each portion, or such as 150 g


_UNITS = {"portion": "portion", "portions": "portion", "g": "g"}


Change = Exchange | Addition


@dataclass(frozen=True, kw_only=True)
class ChangedRecipe:
    """Recipes with a change in them; the version to be costed among them."""

    recipes: Recipes
    version: Version
    said: str | None  # what is otherwise; None: nothing


def changed(con: Connection, version: Version, day: date, change: Change) -> ChangedRecipe:
    """Return a version with a change, its sub-recipes those of `day`.

    Raises UnknownName, InputRefused (the dish is not in it, or one would end up in itself),
    MeasureRefused.
    """
    other_id = find_dish(
        con, _bare(change.dish if isinstance(change, Addition) else change.instead)
    )
    recipes = read_recipes(con, [version.dish_id, other_id])
    other, _ = recipes.in_force(other_id, day)
    inside_other = recipes.dishes_in(other, day)
    if version.dish_id in inside_other:
        raise InputRefused(
            f"Found '{other.dish}', which takes '{version.dish}'; expected a dish that does not, "
            "or it would be in itself. Name another dish."
        )
    if isinstance(change, Addition):
        return _with_addition(recipes, version, other, change)
    there = find_dish(con, _bare(change.dish))
    inside = recipes.dishes_in(version, day) - {version.dish_id}
    if there not in inside:
        names = sorted(recipes.in_force(each, day)[0].dish for each in inside)
        raise InputRefused(
            f"Found no '{_bare(change.dish)}' in '{version.dish}', version {version.version}; "
            f"expected {'one of ' + ', '.join(names) if names else 'a version with dishes in it'}. "
            "Exchange ingredients by a swap."
        )
    if there in inside_other:
        raise InputRefused(
            f"Found '{other.dish}', which takes '{_bare(change.dish)}' itself; expected a dish "
            "that does not. Enter such a recipe as a version of its own."
        )
    return _with_exchange(recipes, version, there, other)


def _with_exchange(recipes: Recipes, version: Version, there: int, other: Version) -> ChangedRecipe:
    lines = {
        row: [
            replace(line, sub_dish_id=other.dish_id, name=other.dish)
            if line.sub_dish_id == there
            else line
            for line in lines
        ]
        for row, lines in recipes.lines.items()
    }
    gone = recipes.versions[there][0].dish
    return ChangedRecipe(
        recipes=Recipes(versions=recipes.versions, lines=lines),
        version=version,
        said=f"{other.dish} in place of {gone}",
    )


def _with_addition(
    recipes: Recipes, version: Version, other: Version, change: Addition
) -> ChangedRecipe:
    number, _, written = " ".join(change.amount.split()).rpartition(" ")
    amount, unit = float(read_number(number)) if number else 0.0, _UNITS.get(written)
    if unit is None:
        raise InputRefused(
            f"Found '{change.amount}' of '{other.dish}'; expected portions or g for each portion, "
            "such as 1 portion or 150 g. Correct it."
        )
    before = recipes.lines.get(version.row, [])
    line = Line(
        position=len(before) + 1,
        ingredient_id=None,
        sub_dish_id=other.dish_id,
        name=other.dish,
        quantity=f"{amount * version.portions!r}",
        unit=unit,
        amount=amount * version.portions,
        dimension=unit,
        state="as_purchased",
        pantry=False,
        base=None,
        as_purchased=None,
        trim=None,
    )
    return ChangedRecipe(
        recipes=Recipes(
            versions=recipes.versions, lines={**recipes.lines, version.row: [*before, line]}
        ),
        version=version,
        said=f"with {number} {written} of {other.dish} for each portion",
    )


def _bare(name: str) -> str:
    return name.strip().removeprefix(_PREFIX).strip()
