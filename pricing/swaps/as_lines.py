"""Turns swaps of a dish into the lines of a version to come, as a cook would write them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from pricing.book import known
from pricing.book.connect import Book, reading
from pricing.dishes.recipes import Line, Recipes, Version, read_dish
from pricing.dishes.written import WrittenLine, WrittenVersion, written_in
from pricing.names import name_key
from pricing.swaps.swap import DISH, LEAVE_OUT, SwapName

_DIGITS = 6  # of an amount that a swap comes to: no scale shows more


@dataclass(frozen=True, kw_only=True)
class SwappedVersion:
    """A version of the book, and its lines with swaps made."""

    version: WrittenVersion  # as it stands
    lines: tuple[WrittenLine, ...]
    changed: tuple[tuple[WrittenLine, WrittenLine | None], ...]  # line, what it becomes; None: out
    said: tuple[str, ...]  # what could not be written into them, as sentences


def swapped_version(
    book: Book, dish: str, version: str | None, swaps: Sequence[SwapName], *, on: date
) -> SwappedVersion:
    """Return a version (None: the one in force on a day) and its lines with swaps made.

    Each line of the ingredient takes the substitute by the ratio, as purchased, in g, ml or each.
    Lines inside sub-recipes are those of other dishes, and stay; it is said.
    Raises UnknownName, RecipeRefused.
    """
    with reading(book) as con:
        written = written_in(con, dish, version, on)
        dish_id, recipes = read_dish(con, dish)
        costed = recipes.named(dish_id, written.version)
        bases = {each.name_key: each.base for each in known.ingredients(con)}
    by_name = {name_key(each.ingredient): each for each in swaps}
    lines: list[WrittenLine] = []
    changed: list[tuple[WrittenLine, WrittenLine | None]] = []
    said: list[str] = []
    for line, read in zip(written.lines, recipes.lines[costed.row], strict=True):
        swap = by_name.get(name_key(line.ingredient))
        if swap is None:
            lines.append(line)
        elif read.as_purchased is None and swap.substitute != LEAVE_OUT:
            lines.append(line)
            said.append(f"{swap.in_words()}: the line cannot be counted as purchased, and stays.")
        else:
            put = _swapped(line, read, swap, bases)
            lines += [] if put is None else [put]
            if put != line:
                changed.append((line, put))
    said += _inside(recipes, costed, recipes.recipe_day(costed, on), by_name)
    said += [
        f"{swap.in_words()}: the costs here are at the price of {swap.substitute} as a rule; "
        "the swap is to that purchase."
        for swap in swaps
        if swap.purchase_words()
    ]
    return SwappedVersion(
        version=written, lines=tuple(lines), changed=tuple(changed), said=tuple(said)
    )


def _swapped(
    line: WrittenLine, read: Line, swap: SwapName, bases: Mapping[str, str]
) -> WrittenLine | None:
    """Return what takes the place of a line: None where its ingredient is left out."""
    if swap.substitute == LEAVE_OUT:
        return None
    if name_key(swap.substitute) == name_key(swap.ingredient):
        number, unit = read.written()
        less = replace(line, quantity=_number(number * swap.ratio), unit=unit)
        return line if swap.ratio == 1 else less
    dish = swap.substitute.startswith(DISH)
    return WrittenLine(
        ingredient=swap.substitute,
        quantity=_number((read.as_purchased or 0.0) * swap.ratio),
        unit="g" if dish else bases[name_key(swap.substitute)],
        pantry=line.pantry,
        note=f"in place of {line.quantity} {line.unit} {line.ingredient}",
    )


def _number(amount: float) -> str:
    """Return an amount as it is written in a line.

    >>> _number(360.0), _number(97.29729729), _number(0.00125), _number(1250000.0)
    ('360', '97.2973', '0.00125', '1250000')
    """
    return f"{Decimal(f'{amount:.{_DIGITS}g}').normalize():f}"


def _inside(
    recipes: Recipes, version: Version, on: date, swaps: Mapping[str, SwapName]
) -> Iterator[str]:
    """Yield the swaps of ingredients that other dishes take, which the version takes."""
    for dish_id in recipes.dishes_in(version, on) - {version.dish_id}:
        other, _ = recipes.in_force(dish_id, on)
        for name in dict.fromkeys(name_key(each.name) for each in recipes.lines.get(other.row, [])):
            if name in swaps:
                yield (
                    f"{swaps[name].in_words()}: {other.dish}, which this dish takes, keeps its "
                    "own; write a version of it for that."
                )
