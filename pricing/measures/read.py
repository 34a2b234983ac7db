"""What a pack or a recipe line says it is: g, ml, each or a measure of the ingredient's own."""

from __future__ import annotations

import re
from collections.abc import Collection
from fractions import Fraction

from pricing.errors import MeasureRefused
from pricing.measures.quantities import (
    VULGAR_FRACTIONS,
    IngredientFacts,
    Quantity,
    as_amount,
    in_base,
    missing_fact,
    read_number,
    shown,
    tidy,
)
from pricing.measures.units import SYSTEMS, Unit, find_unit, unknown_unit
from pricing.names import name_key

__all__ = [
    "SYSTEMS",
    "IngredientFacts",
    "Quantity",
    "in_base",
    "is_unit",
    "missing_fact",
    "read_number",
    "read_pack",
    "read_quantity",
]

# Takes in everything that could be meant as one number, so that read_number can say what is wrong.
_NUMBERISH = re.compile(rf"[-−+]?[0-9{VULGAR_FRACTIONS}.,/⁄'’_ –—-]*(?:[eE][-+]?[0-9]+)?")
_TIMES = re.compile(rf"[xX×*] ?(?=[0-9.{VULGAR_FRACTIONS}])")
_NEXT_NUMBER = re.compile(rf"[0-9{VULGAR_FRACTIONS}]|(?<= )\.(?=[0-9])")


def is_unit(unit: str, system: str) -> bool:
    """Tell whether `unit` is a unit that a book in this measure system reads."""
    try:
        find_unit(tidy(unit, "unit"), system)
    except MeasureRefused:
        return False
    return True


def read_quantity(
    quantity: str, unit: str, system: str, own_measures: Collection[str] = ()
) -> Quantity:
    """Return what a recipe line's `quantity` and `unit` texts ask for.

    `own_measures` are the keys (`names.name_key`) of the ingredient's measures; one of them wins
    over a unit of the same name. Raises MeasureRefused.

    >>> read_quantity("1½", "tbsp", "au").amount
    Decimal('30')
    """
    number, unit_text = tidy(quantity, "quantity"), tidy(unit, "unit")
    line = f"{number} {unit_text}".strip()
    own = _own_measure(unit_text, own_measures)
    if own is not None:
        return _own_quantity(read_number(number), own, line)
    if re.match(rf"[0-9.,/⁄{VULGAR_FRACTIONS}]", unit_text):  # "12" of "1/2 lb" is not 12 1/2 lb
        raise unknown_unit(unit_text, own_measures)
    return _read(line, system, own_measures)


def read_pack(text: str, system: str, own_measures: Collection[str] = ()) -> Quantity:
    """Return how much a pack holds: `500 g`, `6 x 330 ml`, `1 lb 4½ oz`, `1 dozen`, `1 bunch`.

    `system` is the book's measure system; `own_measures` are the keys of the ingredient's
    measures, one of which wins over a unit of the same name. Raises MeasureRefused.

    >>> read_pack("6 x 330 ml", "uk")
    Quantity(amount=Decimal('1980'), dimension='ml', measure_key=None)
    """
    return _read(tidy(text, "pack"), system, own_measures)


def _read(text: str, system: str, own_measures: Collection[str]) -> Quantity:
    packs, rest = _leading_counts(text)
    own = _own_measure(rest, own_measures)
    if own is not None and _split_number(rest)[0]:  # its name begins with a number: 2 x 400 g tin
        return _own_quantity(packs, own, text)
    total = Fraction(0)
    larger: Unit | None = None
    while True:
        number, rest = _leading_number(rest, text)
        own = _own_measure(rest, own_measures)
        if own is not None and larger is None:
            return _own_quantity(packs * number, own, text)
        ahead = _NEXT_NUMBER.search(rest)
        end = ahead.start() if ahead else len(rest)
        if ahead and rest[:end].endswith("."):  # 1 lb.5 oz: half an ounce or five?
            raise unknown_unit(rest, own_measures)
        unit_text, rest = rest[:end].strip(), rest[end:]
        if _own_measure(unit_text, own_measures) is not None:
            raise MeasureRefused(
                found=f"the measure {shown(unit_text)} beside other units in {shown(text)}",
                expected="an own measure alone, like 1 bunch",
                remedy="Write the whole amount in one unit.",
            )
        unit = find_unit(unit_text, system, own_measures)
        if larger and (unit.dimension != larger.dimension or unit.factor >= larger.factor):
            raise MeasureRefused(
                found=f"{larger.name} and then {unit.name} in {shown(text)}",
                expected="units of one kind, the larger first, like 1 lb 4 oz",
                remedy="Write the whole amount in one unit.",
            )
        total += number * unit.factor
        larger = unit
        if not rest:
            amount = as_amount(packs * total, text)
            return Quantity(amount=amount, dimension=unit.dimension, measure_key=None)


def _leading_counts(text: str) -> tuple[Fraction, str]:
    """Return the product of the counts before each x, and what follows the last x."""
    packs, rest = Fraction(1), text
    while True:
        chunk, after = _split_number(rest)
        times = _TIMES.match(after)
        if times is None:
            return packs, rest
        count = read_number(chunk)
        if count.denominator != 1:
            raise MeasureRefused(
                found=shown(text),
                expected="a whole number of items before the x",
                remedy="Write it like 6 x 330 ml.",
            )
        packs, rest = packs * count, after[times.end() :]


def _split_number(text: str) -> tuple[str, str]:
    """Return what stands for a number at the start of `text`, and the rest."""
    match = _NUMBERISH.match(text)
    end = match.end() if match else 0
    return text[:end].strip(), text[end:]


def _leading_number(text: str, whole: str) -> tuple[Fraction, str]:
    """Return the number `text` begins with, and what follows it, which is never empty."""
    chunk, rest = _split_number(text)
    if chunk and rest:
        return read_number(chunk), rest
    if chunk:
        read_number(chunk)  # a number that cannot be read is the first thing to mend
        raise MeasureRefused(
            found=f"{shown(whole)}, where {shown(chunk)} has no unit",
            expected="a number and a unit, like 500 g, 750 ml or 12 each",
            remedy="Add the unit.",
        )
    raise MeasureRefused(
        found=f"{shown(whole)} without a number" if whole else "no amount",
        expected="a number and a unit, like 500 g, 750 ml or 1 dozen",
        remedy="Write how many before the unit.",
    )


def _own_quantity(number: Fraction, own: str, text: str) -> Quantity:
    return Quantity(amount=as_amount(number, text), dimension="measure", measure_key=own)


def _own_measure(text: str, own_measures: Collection[str]) -> str | None:
    """Return the ingredient's own measure that `text` names, as written or with a plural in -s."""
    if not own_measures:
        return None
    key = name_key(text)
    if key in own_measures:
        return key
    plural = sorted(own for own in own_measures if _is_plural(key, own))
    if len(plural) > 1:
        raise MeasureRefused(
            found=f"the measure {shown(text)}, which could be {' or '.join(plural)}",
            expected="one measure of this ingredient",
            remedy="Write its name exactly.",
        )
    return plural[0] if plural else None


def _is_plural(key: str, own: str) -> bool:
    """Tell whether `key` is `own` with words in a plural in -s, -es or -ies, commas aside."""
    written, known = key.replace(",", "").split(), own.replace(",", "").split()
    return len(written) == len(known) and all(map(_same_word, written, known))


def _same_word(written: str, one: str) -> bool:
    plurals = {f"{one}s", f"{one}es"}
    if one.endswith("y"):
        plurals.add(f"{one[:-1]}ies")
    return written == one or written in plurals
