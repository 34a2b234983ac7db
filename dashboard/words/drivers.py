"""Says what moved the mean cost: a price beside its series, a pack, a supposed change."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dashboard.words.change import market_words
from dashboard.words.evidence import MOVED
from dashboard.words.figures import (
    counted,
    figure,
    half_products_words,
    percent,
    signed_fine,
    signed_mean,
    signed_percent,
    signed_tenths,
)
from ingest.offices.reading.wording import without_place
from pricing.change.shown import ShownChange, shown
from pricing.days import day_words
from pricing.money import show_money

if TYPE_CHECKING:
    from pricing.change.drivers import Driver, Drivers
    from pricing.change.what_if import DishIf, PriceChange
    from pricing.prices.packs_changed import PackChange
    from pricing.prices.swings import Swing


def driver_cells(each: Driver, swing: Swing | None, currency: str) -> list[str]:
    """Return what stands beside an ingredient in a table of drivers.

    The change of the mean, by price, by recipe, dishes, share now, how its price and its official
    series changed, how its price swings, and how often a series stands in for it.
    """
    swings = None if swing is None else swing.volatility_pct
    return [
        signed_mean(each.contribution, currency),
        signed_mean(each.price_effect, currency),
        signed_mean(each.recipe_effect, currency),
        f"{each.dishes:,}",
        percent(each.share_now),
        _change(each.price_relative),
        _change(each.official_relative),
        "—" if swings is None else f"{swings:.1f} %",
        percent(None if swing is None else swing.bridged_share),
    ]


def shown_means(found: Drivers) -> ShownChange:
    """Return the mean cost then and now as shown, with what is by prices and what by recipes."""
    moved = found.mean_then + found.price_effect
    return shown(found.currency, found.mean_then, moved, found.mean_now)


def left_out_of_words(found: Drivers) -> list[str]:
    """Return what some dishes are compared without, and which dishes do not count at all."""
    said = [
        f"Without {each.ingredient} in {counted(each.dishes, 'dish', 'dishes')}: {each.reason}"
        for each in found.left_out
    ]
    if found.drafts:
        said.append(f"Not counted, since they begin after today: {', '.join(found.drafts)}.")
    if found.half_products:
        said.append(half_products_words(found.half_products))
    return said


def _change(relative: float | None) -> str:
    return signed_percent(None if relative is None else relative - 1)


def what_if_cells(dish: DishIf, currency: str) -> list[str]:
    """Return what a dish costs, would cost, and the change of it, also in per cent."""
    return [
        figure(dish.cost_now, dish.complete, currency),
        figure(dish.cost_if, dish.complete, currency),
        signed_fine(dish.change, currency),
        signed_tenths(dish.change / dish.cost_now) if dish.cost_now > 0 else "—",
    ]


def driver_remark(each: Driver) -> str:
    """Return how an ingredient's price went beside its official series, and what it rests on."""
    said = []
    if each.price_relative is not None and each.official_relative is not None:
        points = round(100 * (each.price_relative - each.official_relative))
        title = without_place(each.series_title or each.series or "")
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
        said.append(f"{MOVED} {' and '.join(moved)}")
    if each.marked:
        said.append(market_words(each.market_then, each.market_now))
    return "; ".join(said)


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


def what_if_words(change: PriceChange) -> str:
    """Return a change that is supposed: "baking (11 ingredients) rose by 10 %"."""
    moved = counted(len(change.ingredients), "ingredient")
    name = f"{change.name} ({moved})" if len(change.ingredients) > 1 else change.name
    if not change.percent:
        return f"{name} stayed as it is"
    return f"{name} {'rose' if change.percent > 0 else 'fell'} by {abs(change.percent):g} %"
