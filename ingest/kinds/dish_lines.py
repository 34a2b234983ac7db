"""Reads one line of a recipe: so much of an ingredient, or of another dish."""

from __future__ import annotations

from dataclasses import dataclass
from dataclasses import replace as changed
from decimal import Decimal
from typing import Any

from ingest.kinds.checked import Checked
from ingest.kinds.ingredients import SUB_RECIPE
from ingest.kinds.kitchen import Kitchen
from ingest.kinds.waiting_amount import decided_amount
from ingest.text.rows import Row
from ingest.text.sentences import quoted
from pricing.book.known import KnownIngredient
from pricing.errors import MeasureRefused
from pricing.measures.quantities import as_amount
from pricing.measures.read import Quantity, is_unit, missing_fact, read_number, read_quantity
from pricing.names import WAITING, name_key, waiting_words

_SUB_UNITS = {"portion": "portion", "portions": "portion", "batch": "batch", "batches": "batch"}
REST = ("measure_key", "state", "yield_pct", "pantry", "note")  # columns beside the amount
_COLUMNS = {"ingredient", "quantity", "unit", "state", "yield_pct", "pantry", "note"}


@dataclass(frozen=True, kw_only=True)
class DishLine:
    """A line that can be read; the dish columns of its row may still be wrong."""

    row: Row
    ingredient_id: int | None  # None also for a line that waits in words that are new
    sub_key: str | None  # key of the other dish; it need not exist yet
    sub_name: str | None
    waiting: str | None = None  # the words of a line that waits for a decision
    amount: Decimal  # in `dimension`
    dimension: str  # g, ml, each, measure, portion or batch
    measure_key: str | None

    def compared(self, sub_dish: int | str | None) -> tuple[Any, ...]:
        """Return what makes two lines the same, with the other dish's id in place of its key."""
        return (self.ingredient_id, sub_dish, self.amount, self.dimension, *self.rest())

    def rest(self) -> tuple[Any, ...]:
        """Return the columns of REST as they are stored."""
        value = self.row.value
        return (
            self.measure_key,
            value["state"] or "as_purchased",
            value["yield_pct"],
            bool(value["pantry"]),
            value["note"],
        )


def read_line(row: Row, kitchen: Kitchen, checked: Checked) -> DishLine | None:
    """Return the line of a row, or None after adding its problems."""
    before = len(checked.problems)
    if row.value["ingredient"] is None:
        return None
    words = waiting_words(row.value["ingredient"])
    if words is not None:
        line = _decided_since(row, words, kitchen) or _waiting(row, words, kitchen, checked)
    elif name_key(row.value["ingredient"]).startswith(SUB_RECIPE):
        line = _sub_recipe(row, checked)
    else:
        line = _ingredient(row, row.value["ingredient"], kitchen, checked)
    return line if len(checked.problems) == before and not row.bad & _COLUMNS else None


def is_set_aside(row: Row, kitchen: Kitchen) -> bool:
    """Tell whether a line that waited was decided to be no ingredient."""
    words = waiting_words(row.value["ingredient"] or "")
    decision = kitchen.decisions.get(name_key(words)) if words else None
    return decision is not None and decision.ingredient_id is None


def _decided_since(row: Row, words: str, kitchen: Kitchen) -> DishLine | None:
    """Return a line that waited, if its ingredient is known by now and it can be counted so."""
    decision, value = kitchen.decisions.get(name_key(words)), row.value
    ingredient = kitchen.find(words)
    if decision is not None:
        by_id = {each.ingredient_id: each for each in kitchen.ingredients.values()}
        ingredient = by_id.get(decision.ingredient_id or 0)
    if ingredient is None or value["quantity"] is None or value["unit"] is None:
        return None
    pack = None if decision is None else decision.pack
    try:
        written = (value["quantity"], value["unit"])
        _, (quantity, unit) = decided_amount(written, pack, ingredient, kitchen)
    except MeasureRefused:
        return None
    checked = Checked()
    kept = changed(row, value={**value, "quantity": quantity, "unit": unit})
    line = _ingredient(kept, ingredient.name, kitchen, checked)
    return None if checked.problems else line


def _waiting(row: Row, words: str, kitchen: Kitchen, checked: Checked) -> DishLine | None:
    """Return a line whose ingredient nobody has decided on; its unit may be any word."""
    unit = row.value["unit"]
    if not words:
        checked.problems.append(
            row.problem(
                "ingredient",
                quoted(row.value["ingredient"]),
                f"the words of the line after '{WAITING}'",
                f"Write it like {WAITING} smoked salt.",
            )
        )
    own = [] if unit is None or is_unit(unit, kitchen.system) else [name_key(unit)]
    quantity = _quantity(row, kitchen, own, checked)
    if quantity is None:
        return None
    return DishLine(
        row=row,
        ingredient_id=kitchen.named.get(name_key(f"{WAITING} {words}")),
        sub_key=None,
        sub_name=None,
        waiting=words,
        amount=quantity.amount,
        dimension=quantity.dimension,
        measure_key=quantity.measure_key,
    )


def _ingredient(row: Row, name: str, kitchen: Kitchen, checked: Checked) -> DishLine | None:
    ingredient = kitchen.find(name)
    if ingredient is None:
        checked.problems.append(kitchen.unknown_ingredient(row, "ingredient", name))
        return None
    facts = kitchen.facts(ingredient)
    own = facts.grams_by_measure
    quantity = _quantity(row, kitchen, list(own), checked)
    if quantity is None:
        return None
    missing = missing_fact(quantity, facts)
    if missing:
        checked.problems.append(
            row.problem(
                "unit",
                f"{row.value['quantity']} {row.value['unit']} of {ingredient.name}, which is "
                f"priced by {facts.base}",
                f"its {missing}, to turn one into the other",
                f"Load {missing} of {ingredient.name} first, or write the line in {facts.base}.",
            )
        )
    if row.value["state"] == "edible":
        _check_edible(row, ingredient, quantity, checked)
    return DishLine(
        row=row,
        ingredient_id=ingredient.ingredient_id,
        sub_key=None,
        sub_name=None,
        amount=quantity.amount,
        dimension=quantity.dimension,
        measure_key=quantity.measure_key,
    )


def _check_edible(
    row: Row, ingredient: KnownIngredient, quantity: Quantity, checked: Checked
) -> None:
    if quantity.dimension == "measure":
        checked.problems.append(
            row.problem(
                "state",
                f"edible for {row.value['unit']}, an own measure of {ingredient.name}",
                "as_purchased, which is how own measures are weighed",
                "Leave the state empty, or write the edible amount in g.",
            )
        )
    elif "yield_pct" not in row.bad and (row.value["yield_pct"] or ingredient.yield_pct) is None:
        checked.problems.append(
            row.problem(
                "yield_pct",
                f"an edible amount of {ingredient.name} without a yield",
                "a yield on the line, or one of the ingredient",
                "Write the yield, or the as-purchased amount.",
            )
        )


def _sub_recipe(row: Row, checked: Checked) -> DishLine | None:
    value = row.value
    name = value["ingredient"].split(":", 1)[1].strip()
    if not name:
        checked.problems.append(
            row.problem(
                "ingredient",
                quoted(value["ingredient"]),
                "the name of a dish after 'dish:'",
                "Write it like dish:vegetable stock.",
            )
        )
    if value["state"] == "edible":
        checked.problems.append(
            row.problem(
                "state",
                "edible for a sub-recipe",
                "as_purchased; the other dish's own lines say what is edible",
                "Leave the state empty.",
            )
        )
    quantity = _sub_quantity(row, checked)
    if quantity is None:
        return None
    return DishLine(
        row=row,
        ingredient_id=None,
        sub_key=name_key(name),
        sub_name=name,
        amount=quantity[0],
        dimension=quantity[1],
        measure_key=None,
    )


def _sub_quantity(row: Row, checked: Checked) -> tuple[Decimal, str] | None:
    """Return amount and dimension: portion, batch or g."""
    number, unit = row.value["quantity"], row.value["unit"]
    if number is None or unit is None:
        return None
    word = _SUB_UNITS.get(name_key(unit))
    try:
        if word:
            return as_amount(read_number(number), number), word
        quantity = read_quantity(number, unit, "metric")
        if quantity.dimension == "g":
            return quantity.amount, "g"
    except MeasureRefused as refused:
        if word or _is_bad_number(number):
            checked.problems.append(row.refused("quantity", refused))
            return None
    checked.problems.append(
        row.problem(
            "unit",
            f"the unit {quoted(unit)} for a sub-recipe",
            "portion, batch or g",
            "Write how many portions, batches or grams this dish takes.",
        )
    )
    return None


def _quantity(
    row: Row, kitchen: Kitchen, own_measures: list[str], checked: Checked
) -> Quantity | None:
    number, unit = row.value["quantity"], row.value["unit"]
    if number is None or unit is None:
        return None
    try:
        return read_quantity(number, unit, kitchen.system, own_measures)
    except MeasureRefused as refused:
        column = "quantity" if _is_bad_number(number) else "unit"
        checked.problems.append(row.refused(column, refused))
        return None


def _is_bad_number(text: str) -> bool:
    try:
        read_number(text)
    except MeasureRefused:
        return True
    return False
