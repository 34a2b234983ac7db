"""Reads one line of a recipe's ingredients: how much of what, and what is said beside it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from ingest.recipes.amounts import Amount, Stated
from ingest.recipes.item import only_adjectives, split_item
from ingest.recipes.second import Second, read_second, take_out_second
from ingest.recipes.units import read_kitchen_unit_at
from ingest.recipes.where import (
    LONGEST_LINE,
    find_amount,
    take_off_label,
    take_off_vague,
    tidy_line,
)
from ingest.recipes.words import dimension
from pricing.errors import MeasureRefused
from pricing.measures.quantities import shown
from pricing.measures.units import SYSTEMS


@dataclass(frozen=True, kw_only=True)
class RecipeLine:
    """What one line asks for."""

    quantity: Fraction | None  # in `unit`; the lower end of a range; None without an amount
    high: Fraction | None  # the higher end of a range, else `quantity`
    unit: str | None  # short name of the table of units, a word such as clove, or "each"
    pack_quantity: Fraction | None  # what one of `unit` holds, in `pack_unit`
    pack_unit: str | None
    other: Stated | None  # the same amount once more: 1 cup (250 ml)
    added: Stated | None  # to be added to `quantity`: ½ cup plus 1 tbsp; below 0 for minus
    item: str  # the ingredient's words
    rest: str  # size, preparation, notes and alternatives


def read_recipe_line(text: str, measures: str = "us") -> RecipeLine:
    """Return what a recipe line asks for, whatever the text is; `measures` is the book's system.

    An amount stays as written: nothing is converted. Of alternatives the first is taken. Raises
    MeasureRefused for an unknown measure system alone.

    >>> line = read_recipe_line("2 (14-ounce) cans chopped tomatoes, drained")
    >>> str(line.quantity), line.unit, str(line.pack_quantity), line.pack_unit, line.item
    ('2', 'can', '14', 'oz', 'chopped tomatoes')
    """
    if measures not in SYSTEMS:
        raise MeasureRefused(
            found=f"the measure system {shown(measures)}",
            expected=f"one of {', '.join(SYSTEMS)}",
            remedy="Name the book's measure system.",
        )
    line, beyond = tidy_line(text[:LONGEST_LINE]), text[LONGEST_LINE:]
    label = ""
    place = find_amount(line, measures)
    if place.amount is None:
        label, line = take_off_label(line)
        place = find_amount(line, measures)
    if place.amount is None:
        vague, line = take_off_vague(line)
        item, rest = split_item(line)
        return _record(None, None, item or line, [label, vague, *rest, beyond])
    amount = place.amount
    second = read_second(line, amount, measures)
    amount, second = _pack_named_late(line, amount, second)
    words = line[second.end :]
    if place.is_last:
        words = f"{place.before}, {words}"
    words, second = take_out_second(words, second, amount, measures)
    item, rest = split_item(words, in_a_pack=bool(amount.pack))
    unit, item = _counted(line, amount, item)
    before = [] if place.is_last else [place.before]
    said = [label, *before, *amount.said, *rest, beyond]
    return _record(replace(amount, unit=unit), second, item, said)


def _record(amount: Amount | None, second: Second | None, item: str, rest: list[str]) -> RecipeLine:
    pack = (second and second.pack) or (amount and amount.pack) or None
    return RecipeLine(
        quantity=amount.low if amount else None,
        high=amount.high if amount else None,
        unit=amount.unit if amount else None,
        pack_quantity=pack.quantity if pack else None,
        pack_unit=pack.unit if pack else None,
        other=second.other if second else None,
        added=second.added if second else None,
        item=item,
        rest=", ".join(part for part in rest if part),
    )


def _pack_named_late(line: str, amount: Amount, second: Second) -> tuple[Amount, Second]:
    """Return the tin of "400 g/14 oz tin", whose size is said twice before it is named."""
    behind = line[second.end :]
    start = second.end + len(behind) - len(behind.lstrip())
    named = read_kitchen_unit_at(line, start, "container")
    if named is None or not line[named[1] :].strip():
        return amount, second
    if amount.unit == "each" and second.pack:
        return replace(amount, unit=named[0]), replace(second, end=named[1])
    if second.other and dimension(amount.unit) in ("g", "ml") and amount.unit != "cup":
        one = replace(amount, low=Fraction(1), high=Fraction(1), unit=named[0])
        return one, replace(second, other=None, pack=amount.stated, end=named[1])
    return amount, second


def _counted(line: str, amount: Amount, item: str) -> tuple[str, str]:
    """Return the unit and the ingredient: of 6 garlic cloves, and of 3 cloves, the spice."""
    if not item and amount.unit != "each" and dimension(amount.unit) is None:
        return "each", line[: amount.end].split()[-1]
    name, _, last = item.rpartition(" ")
    part = read_kitchen_unit_at(last, 0, "part")
    if amount.unit == "each" and part and part[1] == len(last) and not only_adjectives(name):
        return part[0], name
    return amount.unit, item
