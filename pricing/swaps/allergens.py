"""What swaps do to the allergens of a dish, by the kitchen's own ingredient records."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from pricing.book.connect import Connection
from pricing.contents.allergen_words import AllergenChange, Entered, allergen_change
from pricing.dishes.recipes import Recipes
from pricing.swaps.dish_to_change import DishToChange
from pricing.swaps.in_force import Swap
from pricing.swaps.saving import in_its_place


@dataclass(frozen=True, kw_only=True)
class DishAllergens:
    """The entered allergens of what a dish takes, and of what may take its changing."""

    of_ingredient: Mapping[int, Entered]
    taken: frozenset[int]  # ingredients of the dish, those of sub-recipes included
    recipes: Recipes
    on: date

    def change(self, swaps: Iterable[Swap]) -> AllergenChange:
        """Return what these swaps, made together, add to the dish and remove from it."""
        made = [swap for swap in swaps if not swap.same_ingredient]
        before: dict[object, Entered] = {each: self.of_ingredient.get(each) for each in self.taken}
        gone = {swap.ingredient_id for swap in made}
        after = {each: names for each, names in before.items() if each not in gone}
        put: list[object] = []
        for swap in made:
            if swap.substitute_id is not None:
                put.append(swap.substitute_id)
                after[swap.substitute_id] = self.of_ingredient.get(swap.substitute_id)
            elif swap.substitute_dish_id is not None:
                put.append(swap.substitute)
                after[swap.substitute] = self._of_dish(swap)
        return allergen_change(before, after, gone=gone, put=put)

    def _of_dish(self, swap: Swap) -> Entered:
        taken = in_its_place(swap, self.recipes, self.on)
        if taken is None:
            return None
        return _together(self.of_ingredient.get(each) for each, _ in taken)


def dish_allergens(con: Connection, changing: DishToChange) -> DishAllergens:
    """Read the records. An ingredient without an entry is unknown."""
    entered = con.execute("SELECT ingredient_id, allergens FROM ingredient_now").fetchall()
    return DishAllergens(
        of_ingredient={each: None if names is None else tuple(names) for each, names in entered},
        # every line counts here, also one whose amount cannot be measured
        taken=frozenset(changing.recipes.per_portion(changing.version, changing.cost.recipe_day)),
        recipes=changing.recipes,
        on=changing.on,
    )


def _together(several: Iterable[Entered]) -> Entered:
    """Return all names, each once; None when any of them is unknown."""
    names: dict[str, None] = {}
    for each in several:
        if each is None:
            return None
        names.update(dict.fromkeys(each))
    return tuple(sorted(names))
