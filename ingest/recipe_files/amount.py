"""Turns what a recipe line says into the quantity and unit of a row of our own columns."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from ingest.recipe_files.exact_text import exact_text
from ingest.recipes.amounts import Stated
from ingest.recipes.line import RecipeLine
from ingest.recipes.words import dimension, factor
from pricing.measures.units import SYSTEMS

_LARGEST_BOTTOM = 1000
_ALTERNATIVE = re.compile(
    r"(?:^|, |\()(?:and/)?or\s+(?!as needed|to taste|so\b|more\b|less\b)(\S.*)"
)
_OPTIONAL = re.compile(r"\b(?:optional|if (?:you )?(?:like|desired|using|available))\b", re.I)
_PART_OF = re.compile(
    r"(?:^|, )((?:[\w-]+ )*(?:juice|zest|rind|peel|grated zest)) (?:of|from)\b", re.I
)
_EXTRA = re.compile(
    r"(?:^|, )((?:plus|and) (?:a little |some )?(?:extra|more)\b[^,]*)", re.IGNORECASE
)


@dataclass(frozen=True, kw_only=True)
class LineAmount:
    """How much a line takes, as a row of the columns of dishes has it."""

    quantity: str  # exact: "28", "2.5", "1 1/3"
    unit: str  # of the table of units, "each", or a word that the kitchen may have a measure for
    said: tuple[str, ...] = ()  # what was decided for the reader


def line_amount(read: RecipeLine, measures: str = "us") -> LineAmount | None:
    """Return how much a line takes; None where it names no number.

    Of a range the middle; of two statements the weight; of packs with a size the size of all.
    `measures` is the book's system, by which "½ cup plus 1 tbsp" is added up.

    >>> from ingest.recipes.line import read_recipe_line
    >>> amount = line_amount(read_recipe_line("2 (14-ounce) cans hominy"))
    >>> amount.quantity, amount.unit, amount.said
    ('28', 'oz', ('2 × can of 14 oz',))
    """
    if read.quantity is None or read.high is None or read.unit is None:
        return None
    said: list[str] = []
    number = (read.quantity + read.high) / 2
    if read.high != read.quantity:
        both = f"{exact_text(read.quantity)} to {exact_text(read.high)} {read.unit}"
        said.append(f"{both}: the middle, {exact_text(number)}")
    taken = _packs(read, number, said) or _added(read, number, measures, said)
    taken = _the_weight(read, taken, said)
    said += _notes(read)
    return LineAmount(quantity=exact_text(taken.quantity), unit=taken.unit, said=tuple(said))


def _packs(read: RecipeLine, number: Fraction, said: list[str]) -> Stated | None:
    """Return what all packs hold together."""
    if read.pack_quantity is None or read.pack_unit is None:
        return None
    one = "" if read.unit == "each" else f"{read.unit} of "
    said.append(f"{exact_text(number)} × {one}{exact_text(read.pack_quantity)} {read.pack_unit}")
    return Stated(number * read.pack_quantity, read.pack_unit)


def _added(read: RecipeLine, number: Fraction, measures: str, said: list[str]) -> Stated:
    """Return the amount with what is added to it or taken from it."""
    unit = str(read.unit)
    if read.added is None:
        return Stated(number, unit)
    more, of = read.added
    words = f"{'plus' if more > 0 else 'minus'} {exact_text(abs(more))} {of}"
    here, there = _size(unit, measures), _size(of, measures)
    alike = unit == of or (here and there and dimension(unit) == dimension(of))
    total = number + (more if unit == of or not here or not there else more * there / here)
    if not alike or total <= 0:
        said.append(f"'{words}' is not counted")
        return Stated(number, unit)
    sum_of_both = Stated(total, unit)
    base = dimension(unit)
    if total.denominator > _LARGEST_BOTTOM and here and base:  # nobody measures 47/4546 of a pint
        sum_of_both = Stated(total * here, base)
    told = f"{exact_text(sum_of_both.quantity)} {sum_of_both.unit}"
    said.append(f"{exact_text(number)} {unit} {words}: {told}")
    return sum_of_both


def _the_weight(read: RecipeLine, taken: Stated, said: list[str]) -> Stated:
    """Return the second statement where it is a weight and the first is none, or ml and cups."""
    if read.other is None:
        return taken
    first, second = (_rank(each.unit) for each in (taken, read.other))
    wins = second < first and (second == 0 or first == 2)
    kept, left = (read.other, taken) if wins else (taken, read.other)
    said.append(
        f"{exact_text(kept.quantity)} {kept.unit} is taken; "
        f"it says {exact_text(left.quantity)} {left.unit}, too"
    )
    return kept


def _rank(unit: str) -> int:
    """Return 0 for a weight, 1 for a volume of one size anywhere, 2 for a cup, 3 for others."""
    kind = dimension(unit)
    if kind == "g":
        return 0
    if kind == "ml":
        return 1 if unit in ("ml", "cl", "dl", "l") else 2
    return 3


def _size(unit: str, measures: str) -> Fraction | None:
    """Return the g, ml or each of a unit of the table, also of one with a prefix ("uk pint")."""
    prefix, _, bare = unit.partition(" ")
    return factor(bare, prefix) if prefix in SYSTEMS and bare else factor(unit, measures)


def _notes(read: RecipeLine) -> list[str]:
    """Return what the rest of the line leaves to be said."""
    said = []
    if other := _ALTERNATIVE.search(read.rest):
        said.append(f"'{read.item}' is taken, not '{other[1]}'")
    if part := _PART_OF.search(read.rest):
        said.append(f"the {part[1]} counts as the whole")
    if _OPTIONAL.search(read.rest):
        said.append("optional; it is counted")
    if extra := _EXTRA.search(read.rest):
        said.append(f"'{extra[1]}' is not counted")
    return said
