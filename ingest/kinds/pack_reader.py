"""Reads pack texts of ingredients into amounts, each text once."""

from __future__ import annotations

from dataclasses import dataclass

from ingest.kinds.kitchen import Kitchen
from pricing.book.known import KnownIngredient
from pricing.errors import MeasureRefused
from pricing.measures.quantities import shown
from pricing.measures.read import Quantity, in_base, missing_fact, read_pack


@dataclass(frozen=True, kw_only=True, slots=True)
class Pack:
    """A pack of one ingredient, read."""

    ingredient: KnownIngredient
    quantity: Quantity
    in_base: float  # g, ml or each as purchased


class PackReader:
    """Reads each pack text of an ingredient once."""

    def __init__(self, kitchen: Kitchen) -> None:
        self._kitchen = kitchen
        self._seen: dict[tuple[int, str], Pack | MeasureRefused] = {}

    def read(self, ingredient: KnownIngredient, text: str) -> Pack | MeasureRefused:
        """Return the pack, or why the text is none of this ingredient."""
        key = ingredient.ingredient_id, text
        if key not in self._seen:
            try:
                self._seen[key] = self._pack(ingredient, text)
            except MeasureRefused as refused:
                self._seen[key] = refused
        return self._seen[key]

    def _pack(self, ingredient: KnownIngredient, text: str) -> Pack:
        facts = self._kitchen.facts(ingredient)
        quantity = read_pack(text, self._kitchen.system, facts.grams_by_measure)
        missing = missing_fact(quantity, facts)
        if missing:
            raise MeasureRefused(
                found=f"the pack {shown(text)} of {ingredient.name}, which is priced by "
                f"{facts.base}",
                expected=f"its {missing}, to turn one into the other",
                remedy=f"Load {missing} of {ingredient.name} first, or write the pack in "
                f"{facts.base}.",
            )
        return Pack(ingredient=ingredient, quantity=quantity, in_base=in_base(quantity, facts))
