"""Swaps as a cook reads them in a terminal."""

from __future__ import annotations

from dashboard.answers import signed_fine
from dashboard.swaps_words import (
    LISTS,
    allergen_words,
    saving_words,
    since_words,
    target_words,
    unknown_words,
)
from dashboard.text_table import text_table, wrapped
from dashboard.words import counted, figure
from pricing.days import day_words
from pricing.money import show_money
from pricing.swaps.of_catalogue import CatalogueSwaps
from pricing.swaps.records import Swaps


def swaps_text(found: Swaps) -> str:
    """Return the swaps of a dish, the largest saving first, then the target, then the caution."""
    head = [
        f"{found.dish}, version {found.version}, at prices of {day_words(found.on)}: "
        f"{figure(found.cost_per_portion, found.complete, found.currency)} per portion"
    ]
    if found.dish_target is not None:
        head.append(f"Its target is {show_money(found.dish_target, found.currency)} per portion.")
    if not found.swaps:
        return "\n".join([*head, "", NO_SWAPS, *_elsewhere(found)])
    rows = [
        [
            swap.in_words(),
            saving_words(swap, found.currency),
            show_money(swap.cost_per_portion, found.currency),
            since_words(swap),
            allergen_words(swap.allergens_added, swap.allergens_removed, found.allergen_list),
        ]
        for swap in found.swaps
    ]
    table = text_table(
        ["Swap", "Per portion", "Then costs", "Since", "Allergens, by the records"],
        rows,
        right=(2,),
    )
    notes = [f"{each.in_words()}: {each.note}" for each in found.swaps if each.note]
    gaps = [f"{each.in_words()}: {each.reason}" for each in found.swaps if each.reason]
    lines = [*head, "", table]
    lines += ["", *(wrapped(each) for each in target_words(found))] if found.target else []
    lines += ["", "Notes", *(f"  {each}" for each in notes)] if notes else []
    lines += ["", "Without figures", *(f"  {each}" for each in gaps)] if gaps else []
    lines += _elsewhere(found)
    lines += [
        "",
        wrapped(
            f"{unknown_words(found)}{found.caution} Allergen names: {LISTS[found.allergen_list]}."
        ),
    ]
    return "\n".join(lines)


NO_SWAPS = (
    "The book has no swap that works in this dish. Enter one with `portiondrift swap INGREDIENT "
    "SUBSTITUTE RATIO`, or load a file with `portiondrift load swaps FILE`."
)


def _elsewhere(found: Swaps) -> list[str]:
    if not found.elsewhere:
        return []
    return ["", wrapped(f"Stated not to work in this dish: {', '.join(found.elsewhere)}.")]


def catalogue_swaps_text(found: CatalogueSwaps, most: int = 20) -> str:
    """Return the swaps that save most over all dishes, and the dishes over their target."""
    money = found.currency
    head = (
        f"{counted(found.dishes, 'dish', 'dishes')} at prices of {day_words(found.on)}; "
        f"{found.told_how_often} say how often they are made"
    )
    saving = [each for each in found.swaps if (each.saving or 0.0) > 0]
    rows = [
        [
            each.in_words(),
            str(each.dishes),
            signed_fine(-(each.saving or 0.0), money),
            "—" if each.saving_per_month is None else signed_fine(-each.saving_per_month, money),
            each.most_in or "—",
        ]
        for each in saving[:most]
    ]
    lines = [head]
    if rows:
        headings = ["Swap", "Dishes", "Each made once", "Per month", "Saves most per portion in"]
        lines += ["", text_table(headings, rows, right=(1, 2, 3))]
        if len(saving) > most:
            lines.append(f"and {len(saving) - most} more that save something")
    else:
        lines += ["", "No swap in the book saves anything on this day."]
    over = [
        [
            each.dish,
            show_money(each.target, money),
            figure(each.cost_per_portion, each.complete, money),
            signed_fine(each.over, money),
        ]
        for each in found.over_target
    ]
    if over:
        lines += [
            "",
            f"Over their target: {len(over)} of {found.targets}",
            text_table(["Dish", "Target", "Costs", "Over"], over, right=(1, 2, 3)),
        ]
    elif found.targets:
        lines += ["", f"All {found.targets} dishes with a target are within it."]
    return "\n".join(lines)
