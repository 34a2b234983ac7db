"""One column of the bench: what is stated of a recipe and of every dish inside it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from pricing.bench.changed import ChangedRecipe
from pricing.bench.records import BenchColumn, Difference, Marks, Stated
from pricing.book.connect import Connection
from pricing.book.read import rows
from pricing.dishes.allergens import allergens_beside
from pricing.dishes.cost import DishCost
from pricing.dishes.recipes import Version

FIGURES = ("minutes", "minutes_waiting", "energy_kwh", "pots")
Tried = Mapping[int, Mapping[str, Any]]  # version row → what is stated of it


@dataclass(frozen=True, kw_only=True)
class Laid:
    """A recipe with its cost, before what is stated of it."""

    recipe: ChangedRecipe
    day: date  # whose sub-recipes count
    cost: DishCost

    def versions(self) -> list[Version]:
        """Return the version, then those of the dishes inside it, each once, by name."""
        recipes, version = self.recipe.recipes, self.recipe.version
        inside = recipes.dishes_in(version, self.day) - {version.dish_id}
        found = [recipes.in_force(each, self.day)[0] for each in inside]
        return [version, *sorted(found, key=lambda each: each.dish)]


def stated_of(con: Connection, laid: Sequence[Laid]) -> Tried:
    """Return what is stated of every version on the bench or inside one."""
    wanted = sorted({version.row for each in laid for version in each.versions()})
    found = rows(con, "bench/tried", {"versions": wanted})
    return {row["version_row"]: row for row in found}


def as_column(laid: Laid, first: Laid, tried: Tried, allergen_list: str) -> BenchColumn:
    """Return a recipe's column; `first` is what it is told against."""
    cost, own = laid.cost, tried[laid.recipe.version.row]
    plain = laid.recipe.said is None  # what was tasted is the version as it is
    flat = (line for line in cost.ingredient_lines() if line.basis == "missing")
    return BenchColumn(
        dish=cost.dish,
        version=cost.version,
        version_in_force=cost.version_in_force,
        change=laid.recipe.said,
        portions=cost.portions,
        complete=cost.complete,
        missing=tuple(dict.fromkeys(line.ingredient for line in flat)),
        cost_per_portion=cost.cost_per_portion,
        display=cost.display,
        **{name: _stated(laid, tried, name) for name in FIGURES},
        marks=_marks(own["marks"]) if plain else None,
        tasting_note=own["tasting_note"] if plain else None,
        allergens=cost.allergens,
        against_first=None if laid is first else _difference(laid, first, tried),
    )


def _stated(laid: Laid, tried: Tried, name: str) -> Stated:
    versions = laid.versions()
    said = [tried[each.row][name] for each in versions]
    known = [each for each in said if each is not None]
    return Stated(
        amount=sum(known) if known else None,
        own=said[0],
        unstated=tuple(
            version.dish for version, each in zip(versions, said, strict=True) if each is None
        ),
    )


def _marks(given: Sequence[str] | None) -> Marks | None:
    if not given:
        return None
    marks = tuple(float(each) for each in given)
    return Marks(given=marks, mean=sum(marks) / len(marks))


def _difference(laid: Laid, first: Laid, tried: Tried) -> Difference:
    complete = laid.cost.complete and first.cost.complete
    change = allergens_beside(
        (first.recipe.recipes, (first.recipe.version, first.day)),
        (laid.recipe.recipes, (laid.recipe.version, laid.day)),
    )
    marks, before = (
        None if each.recipe.said is not None else _marks(tried[each.recipe.version.row]["marks"])
        for each in (laid, first)
    )
    return Difference(
        cost_per_portion=(
            laid.cost.cost_per_portion - first.cost.cost_per_portion if complete else None
        ),
        **{name: _more(laid, first, tried, name) for name in FIGURES},
        mark=None if marks is None or before is None else marks.mean - before.mean,
        allergens_added=change.added,
        allergens_removed=change.removed,
    )


def _more(laid: Laid, first: Laid, tried: Tried, name: str) -> float | None:
    """Return how much more of a figure a column has; what both leave open the same cancels out."""
    amounts, silent = [], []
    for each in (laid, first):
        said = {version.row: tried[version.row][name] for version in each.versions()}
        amounts.append([value for value in said.values() if value is not None])
        silent.append({row for row, value in said.items() if value is None})
    if silent[0] != silent[1] or not all(amounts):
        return None
    return float(sum(amounts[0]) - sum(amounts[1]))
