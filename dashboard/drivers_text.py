"""What drove the catalogue, as a cook reads it in a terminal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from dashboard.answers import (
    percent,
    signed_fine,
    signed_money,
    signed_parts,
    signed_percent,
    signed_tenths,
)
from dashboard.text_table import text_table, wrapped
from dashboard.words import counted, figure
from pricing.change.drivers import Driver, Drivers
from pricing.change.what_if import PriceChange, WhatIf
from pricing.days import day_words
from pricing.money import show_money
from pricing.prices.packs_changed import PackChange
from pricing.prices.swings import Swing

MOST_SHOWN = 25  # ingredients in a terminal; --json lists all


def drivers_text(found: Drivers, swings: Mapping[str, Swing]) -> str:
    """Return the mean cost then and now, the ingredients ranked, the packs that changed."""
    if not found.dishes:
        return "The book has no dishes. Load them with `portiondrift load dishes FILE`."
    money = found.currency
    by_price, by_recipe = signed_parts([found.price_effect, found.recipe_effect], money)
    head = (
        f"{counted(found.dishes, 'dish', 'dishes')}, mean cost per portion: "
        f"{show_money(found.mean_then, money)} on {day_words(found.then)}, "
        f"{show_money(found.mean_now, money)} on {day_words(found.now)}\n"
        f"{signed_money(found.change, money)}: {by_price} by prices, {by_recipe} by recipes\n"
    )
    headings = [
        "Ingredient", "In cents", "By price", "By recipe", "Dishes", "Share now", "Price",
        "Official",
    ]  # fmt: skip
    if swings:
        headings += ["Swing", "By index"]
    headings.append("Remark")
    shown = found.ingredients[:MOST_SHOWN]
    table = text_table(
        headings,
        [_row(each, swings.get(each.ingredient), bool(swings)) for each in shown],
        right=range(1, len(headings) - 1),
    )
    left = found.ingredients[MOST_SHOWN:]
    tail = []
    if left:
        rest = sum(each.contribution for each in left)
        tail.append(
            f"… and {counted(len(left), 'more ingredient')}, together {cents_words(rest)} cents; "
            "--json lists all."
        )
    return "\n".join([head, table, *tail, "", *_notes(found)]).rstrip()


def _row(each: Driver, swing: Swing | None, swings: bool) -> list[str]:
    row = [
        each.ingredient,
        cents_words(each.contribution),
        cents_words(each.price_effect),
        cents_words(each.recipe_effect),
        f"{each.dishes:,}",
        percent(each.share_now),
        signed_percent(None if each.price_relative is None else each.price_relative - 1),
        signed_percent(None if each.official_relative is None else each.official_relative - 1),
    ]
    if swings:
        known = swing is not None and swing.volatility_pct is not None
        row += [f"{swing.volatility_pct:.1f} %" if swing and known else "—",
                percent(swing.bridged_share if swing else None)]  # fmt: skip
    return [*row, driver_remark(each)]


def cents_words(amount: float) -> str:
    """Return an amount in hundredths of the currency, to a tenth: what matters of a mean."""
    rounded = round(100 * amount, 1) + 0.0
    return f"{'−' if rounded < 0 else '+'}{abs(rounded):.1f}"


def driver_remark(each: Driver) -> str:
    """Return how an ingredient's price went beside its official series, and what it rests on."""
    said = []
    if each.price_relative is not None and each.official_relative is not None:
        points = round(100 * (each.price_relative - each.official_relative))
        title = (each.series_title or each.series or "").split(",")[0]
        if points:
            more = "more" if points > 0 else "less"
            said.append(f"{counted(abs(points), 'point')} {more} than {title}")
        else:
            said.append(f"as much as {title}")
    if each.packs_changed:
        said.append("pack changed")
    moved = [
        when for when, basis in (("then", each.basis_then), ("now", each.basis_now))
        if basis == "bridged"
    ]  # fmt: skip
    if moved:
        said.append(f"moved by an index {' and '.join(moved)}")
    if each.marked:
        ends = (each.basis_then, each.basis_now)
        said.append("no price" if ends == ("missing", "missing") else "priced on one day only")
    return "; ".join(said)


def _notes(found: Drivers) -> Iterator[str]:
    for each in found.ingredients:
        for change in each.packs_changed:
            yield wrapped(pack_sentence(change, found.currency))
    if found.incomplete_dishes:
        names = ", ".join(found.incomplete_dishes[:5])
        more = " and others" if len(found.incomplete_dishes) > 5 else ""
        yield wrapped(f"Not complete, since a line has no price on either day: {names}{more}.")


def pack_sentence(change: PackChange, currency: str) -> str:
    """Return what became of one product's pack."""
    where = f" at {change.supplier}" if change.supplier else ""
    word = "shrank" if change.size_relative < 1 else "grew"
    return (
        f"{change.product}{where} {word} from {change.pack_before} "
        f"({show_money(change.price_before, currency)}, {day_words(change.before_on)}) to "
        f"{change.pack_after} ({show_money(change.price_after, currency)}, "
        f"{day_words(change.after_on)}): {signed_percent(change.unit_relative - 1)} for the same "
        f"amount of {change.ingredient}."
    )


def what_if_text(found: WhatIf) -> str:
    """Return what some changes of price would do to every dish."""
    money = found.currency
    asked = " and ".join(what_if_words(change) for change in found.changes)
    touched = [dish for dish in found.dishes if abs(dish.change) > 1e-9]
    rows = [
        [
            dish.dish,
            figure(dish.cost_now, dish.complete, money),
            figure(dish.cost_if, dish.complete, money),
            signed_fine(dish.change, money),
            signed_tenths(dish.change / dish.cost_now) if dish.cost_now > 0 else "—",
        ]
        for dish in touched
    ]
    head = f"If {asked} from the prices of {day_words(found.on)}"
    if not rows:
        return f"{head}: no dish takes it."
    table = text_table(
        ["Dish", "Now", "Then it would be", "Change", "in %"], rows, right=(1, 2, 3, 4)
    )
    mean = (
        f"Mean over {counted(len(found.dishes), 'dish', 'dishes')}: "
        f"{show_money(found.mean_now, money)} → {show_money(found.mean_if, money)}"
    )
    return f"{head}\n\n{table}\n\n{mean}"


def what_if_words(change: PriceChange) -> str:
    """Return a change that is supposed: "baking (11 ingredients) rose by 10 %"."""
    moved = counted(len(change.ingredients), "ingredient")
    name = f"{change.name} ({moved})" if len(change.ingredients) > 1 else change.name
    if not change.percent:
        return f"{name} stayed as it is"
    return f"{name} {'rose' if change.percent > 0 else 'fell'} by {abs(change.percent):g} %"
