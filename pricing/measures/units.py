"""The table of units: which one a name means in a kitchen's measures, or why it means none."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from pricing.errors import MeasureRefused
from pricing.measures.quantities import shown
from pricing.names import name_key, nearest
from pricing.reference.table import read_table

SYSTEMS = ("metric", "uk", "us", "au")


@dataclass(frozen=True, kw_only=True)
class Unit:
    """One row of reference/units.csv."""

    name: str
    system: str  # "any" or one of SYSTEMS
    dimension: str  # "g", "ml" or "each"
    factor: Fraction  # g, ml or each per unit, exact
    aliases: tuple[str, ...]
    source: str


@cache
def all_units() -> tuple[Unit, ...]:
    """Return every unit of the table, read once and not before it is needed."""
    return tuple(
        Unit(
            name=row["unit"],
            system=row["system"],
            dimension=row["dimension"],
            factor=Fraction(row["factor"]),
            aliases=tuple(row["aliases"].split(";")) if row["aliases"] else (),
            source=row["source"],
        )
        for row in read_table("units.csv")
    )


@cache
def _by_spelling() -> Mapping[str, Mapping[str, Unit]]:
    """Return spelling -> system -> unit."""
    found: dict[str, dict[str, Unit]] = {}
    for unit in all_units():
        for spelling in (unit.name, *unit.aliases):
            found.setdefault(spelling, {})[unit.system] = unit
    return found


def find_unit(text: str, system: str, own_measures: Collection[str] = ()) -> Unit:
    """Return the unit `text` names: bare in this measure system, or with a prefix (`us cup`).

    `own_measures` are only offered in the sentence. Raises MeasureRefused.

    >>> find_unit("fl. oz.", "uk").factor == Fraction("28.4130625")
    True
    """
    if system not in SYSTEMS:
        raise MeasureRefused(
            found=f"the measure system {shown(system)}",
            expected=f"one of {', '.join(SYSTEMS)}",
            remedy="Set the book's measure system to one of these.",
        )
    words = text.replace(".", " ").split()
    if words and words[-1] in ("T", "t"):  # only the case would tell one size from the other
        raise MeasureRefused(
            found=f"the unit {shown(text)}, which could be a tablespoon, a teaspoon or a tonne",
            expected="tbsp, tsp or kg",
            remedy="Write the unit in full.",
        )
    spelling = name_key(" ".join(words))
    prefix, _, bare = spelling.partition(" ")
    if prefix in SYSTEMS and bare:
        choices = _by_spelling().get(bare, {})
        unit = choices.get(prefix)
    else:
        choices = _by_spelling().get(spelling, {})
        unit = choices.get("any") or choices.get(system)
    if unit is not None:
        return unit
    if choices:
        raise _no_such_size(text, prefix if prefix in SYSTEMS else system, choices)
    raise unknown_unit(text, own_measures)


def _no_such_size(text: str, asked: str, choices: Mapping[str, Unit]) -> MeasureRefused:
    """Return the error for a name that is a unit, but not in the measure system asked for."""
    if "any" in choices:
        return MeasureRefused(
            found=f"the unit {shown(text)}",
            expected=f"{choices['any'].name}, which is the same everywhere",
            remedy=f"Leave out '{asked}'.",
        )
    sizes = [f"{each} {choices[each].name}" for each in SYSTEMS if each in choices]
    return MeasureRefused(
        found=f"the unit {shown(text)}, which has no set size in {asked} measures",
        expected=f"one of {', '.join(sizes)}",
        remedy="Write which one is meant, or load a measure of that name for the ingredient.",
    )


def unknown_unit(text: str, own_measures: Collection[str] = ()) -> MeasureRefused:
    """Return the error for a name that is no unit and no measure of the ingredient."""
    own = f", or a measure of this ingredient ({', '.join(sorted(own_measures))})"
    close = nearest(text, [*_by_spelling(), *own_measures])
    near = f"Nearest: {', '.join(close)}." if close else "Write the unit, or load it as a measure."
    return MeasureRefused(
        found=f"the unit {shown(text)}" if text else "no unit",
        expected=f"a unit such as g, kg, ml, l, oz, lb, each or dozen{own if own_measures else ''}",
        remedy=near,
    )
