"""Reads the rows of a swaps file: what is replaced, and what takes its place, if anything."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from ingest.kinds.checked import Checked
from ingest.kinds.kitchen import Kitchen
from ingest.kinds.pack_reader import PackReader
from ingest.problem_codes import Code
from ingest.text.header import Heading
from ingest.text.rows import Row
from ingest.text.sentences import quoted
from pricing.book.known import SWAP_FACTS, KnownIngredient
from pricing.errors import MeasureRefused, Problem
from pricing.measures.read import Quantity
from pricing.names import name_key
from pricing.swaps.in_force import GROUP
from pricing.swaps.swap import DISH, LEAVE_OUT

_OF_A_PURCHASE = ("supplier", "product", "pack")


@dataclass(frozen=True, kw_only=True)
class SwapRow:
    """A swap without problems."""

    row: Row
    ingredient: KnownIngredient
    substitute: KnownIngredient | None  # None: another dish, or nothing
    dish_id: int | None  # of the dish that takes its place
    pack: Quantity | None
    named: Mapping[str, tuple[str, ...]]  # the lists of names, as the book writes them

    @property
    def key(self) -> tuple[Any, ...]:
        """Which swap it is: the columns of known.SWAP_KEY."""
        value, pack = self.row.value, self.pack
        return (
            self.ingredient.ingredient_id,
            self.substitute.ingredient_id if self.substitute else None,
            self.dish_id,
            name_key(value["supplier"] or ""),
            name_key(value["product"] or ""),
            pack.amount if pack else None,
            pack.dimension if pack else None,
            pack.measure_key if pack else None,
        )

    def facts(self, heading: Heading, in_book: Mapping[str, Any] | None) -> dict[str, Any]:
        """Return SWAP_FACTS; a column that the file does not have stays as the book holds it."""
        stated = {
            **{name: self.row.value[name] for name in SWAP_FACTS},
            "ratio_state": self.row.value["ratio_state"] or "as_purchased",
            **self.named,
        }
        if in_book is None:
            return stated
        return {name: stated[name] if heading.has(name) else in_book[name] for name in SWAP_FACTS}


def read_swaps(kitchen: Kitchen, rows: Sequence[Row], checked: Checked) -> list[SwapRow]:
    """Return the rows that make sense by themselves; the others get their problems."""
    packs = PackReader(kitchen)
    swaps = []
    for row in rows:
        before = len(checked.problems)
        swap = _read(kitchen, packs, row, checked)
        if swap is not None:
            checked.problems += _wrong(kitchen, swap)
            if len(checked.problems) == before and not row.bad:
                swaps.append(swap)
    return swaps


def _read(kitchen: Kitchen, packs: PackReader, row: Row, checked: Checked) -> SwapRow | None:
    """Return what the row names, or None after adding the problems of its names."""
    value = row.value
    if value["ingredient"] is None or value["substitute"] is None:
        return None
    ingredient = kitchen.find(value["ingredient"])
    if ingredient is None:
        problem = kitchen.unknown_ingredient(row, "ingredient", value["ingredient"])
        checked.problems.append(problem)
    name = value["substitute"]
    substitute, dish_id, pack = None, None, None
    if (dish_name := _dish_name(name)) is not None:
        dish = kitchen.dishes.get(name_key(dish_name))
        if dish is None:
            checked.problems.append(kitchen.unknown_dish(row, "substitute", dish_name))
            return None
        dish_id = dish[0]
    elif name_key(name) != LEAVE_OUT:
        substitute = kitchen.find(name)
        if substitute is None:
            checked.problems.append(kitchen.unknown_ingredient(row, "substitute", name))
            return None
        if value["pack"] is not None:
            read = packs.read(substitute, value["pack"])
            if isinstance(read, MeasureRefused):
                checked.problems.append(row.refused("pack", read))
                return None
            pack = read.quantity
    if ingredient is None:
        return None
    return SwapRow(
        row=row,
        ingredient=ingredient,
        substitute=substitute,
        dish_id=dish_id,
        pack=pack,
        named={
            "works_in": _dishes_named(kitchen, value["works_in"]),
            "not_in": _dishes_named(kitchen, value["not_in"]),
            "not_with": _substitutes_named(kitchen, value["not_with"]),
            "only_with": _substitutes_named(kitchen, value["only_with"]),
        },
    )


def _dishes_named(kitchen: Kitchen, names: Sequence[str] | None) -> tuple[str, ...]:
    """Return dishes as the book writes them; groups, and what it does not know, as they are."""
    dishes = kitchen.dishes
    return tuple(dishes[name_key(n)][1] if name_key(n) in dishes else n for n in names or ())


def _substitutes_named(kitchen: Kitchen, names: Sequence[str] | None) -> tuple[str, ...]:
    """Return ingredients and dish:NAME as the book writes them."""
    found = []
    for name in names or ():
        if (dish_name := _dish_name(name)) is not None:
            dish = kitchen.dishes.get(name_key(dish_name))
            found.append(f"{DISH}{dish[1]}" if dish else name)
        else:
            ingredient = kitchen.find(name)
            found.append(ingredient.name if ingredient else name)
    return tuple(found)


def _wrong(kitchen: Kitchen, swap: SwapRow) -> Iterator[Problem]:
    """Yield what of a swap does not fit together."""
    row, value = swap.row, swap.row.value
    leaves_out = swap.substitute is None and swap.dish_id is None
    if leaves_out and value["ratio"]:
        yield row.problem(
            "ratio",
            f"{value['ratio']:f} of nothing",
            f"0 where the substitute is '{LEAVE_OUT}'",
            "Write 0, or name what takes its place.",
        )
    elif not leaves_out and value["ratio"] == 0:
        yield row.problem(
            "ratio",
            "'0'",
            "a number over 0, written like 1.5",
            f"Write how much takes its place, or '{LEAVE_OUT}' as substitute.",
        )
    if swap.substitute is None:
        for column in _OF_A_PURCHASE:
            if value[column] is not None:
                yield row.problem(
                    column,
                    quoted(value[column]),
                    "an empty cell, since no ingredient takes its place",
                    "Empty the cell, or name an ingredient as substitute.",
                )
    yield from _nothing_changed(swap)
    yield from _without_yield(swap)
    if swap.dish_id is not None and swap.dish_id in kitchen.unweighed:
        yield row.problem(
            "substitute",
            quoted(value["substitute"]),
            "a dish with batch_weight_g in every version, to take it by weight",
            "Load that dish with its batch_weight_g first, with --replace.",
            Code.DISH_UNWEIGHED,
        )
    for column in ("works_in", "not_in"):
        for name in value[column] or ():
            if not name_key(name).startswith(GROUP) and name_key(name) not in kitchen.dishes:
                yield kitchen.unknown_dish(row, column, name)
    for column in ("not_with", "only_with"):
        for name in value[column] or ():
            if not _is_substitute(kitchen, name):
                yield kitchen.unknown_ingredient(row, column, name)


def _is_substitute(kitchen: Kitchen, name: str) -> bool:
    if (dish_name := _dish_name(name)) is not None:
        return name_key(dish_name) in kitchen.dishes
    return name_key(name) == LEAVE_OUT or kitchen.find(name) is not None


def _dish_name(substitute: str) -> str | None:
    """Return the NAME of dish:NAME; None where it is not written so."""
    return substitute[len(DISH) :] if name_key(substitute).startswith(DISH) else None


def _nothing_changed(swap: SwapRow) -> Iterator[Problem]:
    """An ingredient for itself: only less of it, or from another purchase."""
    value = swap.row.value
    same = swap.substitute is not None and (
        swap.substitute.ingredient_id == swap.ingredient.ingredient_id
    )
    bought = any(value[column] is not None for column in _OF_A_PURCHASE)
    if same and not bought and value["ratio"] is not None and value["ratio"] >= 1:
        yield swap.row.problem(
            "substitute",
            f"{quoted(value['substitute'])}, which is the ingredient itself",
            "another ingredient, or less of this one (a ratio under 1), or a supplier, product or "
            "pack of it",
            "Name what is taken in its place.",
        )


def _without_yield(swap: SwapRow) -> Iterator[Problem]:
    if swap.row.value["ratio_state"] != "edible":
        return
    for each in (swap.ingredient, swap.substitute):
        if each is not None and each.yield_pct is None:
            yield swap.row.problem(
                "ratio_state",
                f"'edible', and no yield of {each.name}",
                f"the yield_pct of {each.name}",
                "Load its yield_pct first, or give the ratio as purchased.",
            )
