"""The command that finds swaps, for one dish or over all."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import Json, Market, NotSupplier
from dashboard.terminal.output import answer, read_day, stop, the_book
from dashboard.terminal.text_table import text_table, wrapped
from dashboard.words.allergens import LISTS, allergen_words
from dashboard.words.figures import counted, figure, signed_fine
from dashboard.words.swaps import saving_words, since_words, target_words, unknown_words
from pricing.days import day_words
from pricing.money import show_money

if TYPE_CHECKING:
    from pricing.swaps.of_catalogue import CatalogueSwaps
    from pricing.swaps.records import Swaps


def swaps(
    dish: Annotated[str | None, typer.Argument(help="A dish; all of them unless stated.")] = None,
    on: Annotated[str, typer.Option("--on", help="Date, YYYY-MM-DD; today unless stated.")] = "",
    version: Annotated[str | None, typer.Option("--version")] = None,
    target: Annotated[
        str | None, typer.Option("--target", help="What a portion may cost: the fewest swaps.")
    ] = None,
    keep: Annotated[
        list[str] | None, typer.Option("--keep", help="An ingredient that stays. Repeatable.")
    ] = None,
    least_disturbing: Annotated[
        bool,
        typer.Option("--least-disturbing", help="Weigh changes by the disturbance you entered."),
    ] = False,
    market: Market = None,
    not_supplier: NotSupplier = None,
    json: Json = False,
) -> None:
    """Cheaper choices for a dish; with a target, the fewest swaps that reach it."""
    from pricing.errors import InputRefused
    from pricing.measures.read import read_number

    book, day = the_book(), read_day(on)
    if dish is None:
        from pricing.swaps.of_catalogue import catalogue_swaps

        if target is not None or version is not None or keep:
            raise InputRefused(
                "Found --target, --version or --keep and no dish; expected the dish they are meant "
                "for. Name it: portiondrift swaps DISH --target AMOUNT."
            )
        over_all = catalogue_swaps(book, on=day, market=market, not_supplier=not_supplier or ())
        answer(over_all, lambda: catalogue_swaps_text(over_all), as_json=json)
        return
    from pricing.swaps.of_dish import find_swaps

    found = find_swaps(
        book, dish, on=day, version=version, keep=keep or (), least_disturbing=least_disturbing,
        target=None if target is None else float(read_number(target)), market=market,
        not_supplier=not_supplier or (),
    )  # fmt: skip
    answer(found, lambda: swaps_text(found), as_json=json)
    if not found.complete:
        stop(1)


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
