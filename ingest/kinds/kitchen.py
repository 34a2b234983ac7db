"""Looks up in the book what a file names, and offers the nearest names when there is none."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from functools import cached_property
from typing import Any

from ingest.text.rows import Row
from ingest.text.sentences import quoted
from pricing.book import known, tray
from pricing.book.connect import Connection
from pricing.book.known import KnownIngredient, KnownMeasure
from pricing.book.read import read_settings
from pricing.book.tray import Decision
from pricing.errors import Problem
from pricing.measures.read import IngredientFacts
from pricing.names import name_key, nearest

_MOST_GUESSES = 100  # finding the nearest of thousands of names takes time; a file of nonsense ends


class Kitchen:
    """The ingredients, measures and dishes of an open book, as they are before the load."""

    def __init__(self, con: Connection) -> None:
        self._con = con
        self._guesses: dict[tuple[str, str], str] = {}
        self._facts: dict[int, IngredientFacts] = {}
        self._keys: dict[str, KnownIngredient | None] = {}

    @cached_property
    def system(self) -> str:
        """The book's measure system."""
        return read_settings(self._con).measures

    @cached_property
    def ingredients(self) -> Mapping[str, KnownIngredient]:
        """Key → ingredient in force."""
        return {each.name_key: each for each in known.ingredients(self._con)}

    @cached_property
    def named(self) -> Mapping[str, int]:
        """Key → id of every ingredient ever named, and of every recipe line that ever waited."""
        return known.named_ingredients(self._con)

    @cached_property
    def decisions(self) -> Mapping[str, Decision]:
        """Key of the words → what was decided of them, whoever writes them."""
        return {each.words_key: each for each in tray.decisions(self._con) if not each.sender_key}

    @cached_property
    def aliases(self) -> Mapping[str, KnownIngredient]:
        """Key of an alias → the ingredient it is another name of."""
        return {
            name_key(alias): each for each in self.ingredients.values() for alias in each.aliases
        }

    @cached_property
    def measures(self) -> Mapping[int, Mapping[str, KnownMeasure]]:
        """Ingredient id → measure key → measure in force."""
        return known.measures(self._con)

    @cached_property
    def dishes(self) -> Mapping[str, tuple[int, str]]:
        """Key → (id, name) of every dish with a version in force."""
        return known.dishes(self._con)

    @cached_property
    def unweighed(self) -> frozenset[int]:
        """Ids of the dishes of which a version states no batch weight."""
        versions = known.versions(self._con)
        return frozenset(each.dish_id for each in versions if each.batch_weight_g is None)

    def add(self, ingredient: KnownIngredient) -> None:
        """Let an ingredient count that the load itself makes."""
        self.ingredients = {**self.ingredients, ingredient.name_key: ingredient}
        self._keys.clear()

    def dish_lines(self, dish_ids: Sequence[int]) -> Mapping[int, Sequence[tuple[Any, ...]]]:
        """Return the lines of every version of these dishes, by the version's row."""
        return known.lines(self._con, dish_ids) if dish_ids else {}

    def find(self, name: str) -> KnownIngredient | None:
        """Return the ingredient of this name or alias."""
        if name not in self._keys:
            key = name_key(name)
            self._keys[name] = self.ingredients.get(key) or self.aliases.get(key)
        return self._keys[name]

    def facts(self, ingredient: KnownIngredient) -> IngredientFacts:
        """Return what turns an ingredient's measures into each other."""
        facts = self._facts.get(ingredient.ingredient_id)
        if facts is None:
            own = self.measures.get(ingredient.ingredient_id, {})
            facts = self._facts[ingredient.ingredient_id] = IngredientFacts(
                base=ingredient.base,
                density_g_per_ml=ingredient.density_g_per_ml,
                grams_each=ingredient.grams_each,
                grams_by_measure={key: measure.grams for key, measure in own.items()},
            )
        return facts

    def unknown_ingredient(
        self,
        row: Row,
        column: str,
        name: str,
        remedy: str = "Correct the name, or load the ingredient first.",
    ) -> Problem:
        """Return the problem of a name that no ingredient in the book has."""
        near = self._nearest("ingredient", name, self._ingredient_names)
        return row.problem(
            column,
            quoted(name),
            "an ingredient of the book, by name or alias",
            f"{near}{remedy}",
        )

    def unknown_dish(
        self, row: Row, column: str, name: str, others: Collection[str] = ()
    ) -> Problem:
        """Return the problem of a name that no dish has, neither in the book nor in `others`."""
        near = self._nearest(
            "dish", name, lambda: [*(each for _, each in self.dishes.values()), *others]
        )
        return row.problem(
            column,
            quoted(name),
            "a dish of the book" + (" or of this file" if others else ""),
            f"{near}Correct the name, or load the dish first.",
        )

    def _ingredient_names(self) -> list[str]:
        known_ones = self.ingredients.values()
        aliases = (alias for each in known_ones for alias in each.aliases)
        return [*(each.name for each in known_ones), *aliases]

    def _nearest(self, kind: str, name: str, names: Callable[[], list[str]]) -> str:
        if (kind, name) not in self._guesses:
            near = nearest(name, names()) if len(self._guesses) < _MOST_GUESSES else []
            self._guesses[kind, name] = f"Nearest: {', '.join(near)}. " if near else ""
        return self._guesses[kind, name]
