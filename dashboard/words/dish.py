"""Says what stands behind the cost of a dish, and what became of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dashboard.words.change import (
    left_out_sentences,
    settled_markets,
    shown_change,
    version_called,
    without_words,
)
from dashboard.words.evidence import age_words, evidence_share
from dashboard.words.figures import (
    counted,
    figure,
    percent,
    plain_number,
    signed_percent,
    version_words,
)
from pricing.change.shown import ShownChange, shown_comparison
from pricing.clock import today
from pricing.days import day_words
from pricing.money import least_shown, show_money

if TYPE_CHECKING:
    from pricing.change.records import Comparison
    from pricing.contents.printed import PrintedFigure
    from pricing.dishes.cost import DishCost
    from pricing.prices.price_line import CostLine

LOCAL_LAW = "Published prices fall under local law; ask your local authority."
_STAYS = "\u00a0"  # a space at which no line breaks


def moved_share(cost: DishCost) -> float | None:
    """Return the share of a cost that rests on moved prices; None when nothing is priced."""
    moved = sum((line.cost or 0.0) * (line.moved_share or 0.0) for line in cost.ingredient_lines())
    return moved / cost.cost_per_batch if cost.cost_per_batch > 0 else None


def figure_words(cost: DishCost) -> str:
    """Return what stands behind the large figure."""
    share = moved_share(cost)
    batch = figure(cost.cost_per_batch, cost.complete, cost.currency)
    parts = [
        evidence_share(share, cost.complete),
        version_words(cost.version, cost.version_in_force),
        f"{batch} for {counted(cost.portions, 'portion')}",
    ]
    unmoved = [line for line in cost.ingredient_lines() if line.basis == "observed" and line.reason]
    if unmoved and cost.cost_per_batch > 0:
        part = sum(line.cost or 0.0 for line in unmoved) / cost.cost_per_batch
        oldest = age_words(max(line.age_days or 0 for line in unmoved))
        parts.append(f"{percent(part)} at older prices held as they were, the oldest seen {oldest}")
    if cost.pantry_per_portion > 0:
        pantry = show_money(cost.pantry_per_portion, cost.currency)
        parts.append(f"{pantry} of a portion is from the store cupboard")
    known = "complete" if cost.complete else "not complete"
    return (
        f"At prices of {day_words(cost.on)}{recipe_day_words(cost)}, {known}: {'; '.join(parts)}."
    )


def recipe_day_words(cost: DishCost) -> str:
    """Return the day of the recipes inside a dish, where it is not plainly that of the prices.

    A version that is not in force on that day takes, unless asked, those of a day of its own.
    """
    own_day = cost.recipe_day == cost.on and cost.version_in_force
    if own_day or not any(line.lines for line in cost.lines):
        return ""
    return f", with the recipes inside it of {day_words(cost.recipe_day)}"


def band_span(cost: DishCost) -> str:
    """Return the band that its prices leave open, to stand beside the figure; "" without one."""
    band = cost.band
    if band is None or band.typical_error < least_shown(cost.currency):
        return ""
    low, high = (show_money(each, cost.currency) for each in (band.low, band.high))
    return f"typically {'at least ' if not cost.complete else ''}{low} to {high}"


def change_words(found: Comparison, printed: PrintedFigure | None) -> str:
    """Return then and now in a few sentences."""
    money, then, now, whole = found.currency, found.then, found.now, shown_comparison(found)
    if printed is None:
        start = f"On {day_words(then.on)}, when its first version came into force, it cost"
    else:
        where = f" in {printed.published_where}" if printed.published_where else ""
        verb = "First printed" if printed.published_on <= today() else "To be printed"
        own_day = printed.published_on == then.on
        start = (
            f"{verb} at {show_money(printed.cost_per_portion, printed.currency)} on "
            f"{day_words(printed.published_on)}{where}. Costed for "
            f"{'that day' if own_day else day_words(then.on)}, version {then.version}, it was"
        )
    cost0 = found.corners.then_recipe_then
    share = signed_percent(found.change / cost0 if cost0 > 0 else None).replace(" ", _STAYS)
    without = f", {without_words(found)}" if found.left_out else ""
    day = "" if now.recipe_day == now.on else f" (recipe day {day_words(now.recipe_day)})"
    words = (
        f"{start} {show_money(whole.then, money)}; on {day_words(now.on)}, "
        f"{version_called(now)}{day}, "
        f"{show_money(whole.now, money)}{without}. "
    )
    words += (
        "That is no change."
        if not (whole.by_price or whole.by_recipe)
        else f"That is {shown_change(found)[0]} ({share}), {_by_what(found, whole)}."
    )
    markets = [f"{each}." for each in settled_markets(found)]
    return " ".join([words, *markets, *left_out_sentences(found.left_out)])


def _by_what(found: Comparison, whole: ShownChange) -> str:
    """Return which part of a change is prices and which the recipe, as a cook would say it."""
    if not whole.by_recipe:
        return "all of it by prices"
    if not whole.by_price:
        return "all of it by the recipe"
    _, by_price, by_recipe = shown_change(found)
    return f"{by_price} by prices and {by_recipe} by the recipe"


def gaps(cost: DishCost) -> dict[str, str]:
    """Return each ingredient without a price, once, and why it has none."""
    return {
        line.ingredient: line.reason or "no price"
        for line in cost.ingredient_lines()
        if line.basis == "missing"
    }


def portions_words(cost: DishCost) -> str:
    """Return how many portions are costed, and of how many the recipe is where it was scaled."""
    words = counted(cost.portions, "portion")
    if cost.portions == cost.recipe_portions:
        return words
    return f"{words}, scaled from {plain_number(cost.recipe_portions)}"


def work_words(cost: DishCost) -> str:
    """Return the minutes of work that a dish states, and what they cost where the book prices work.

    "" without minutes. They are those of the recipe as it is written: how much longer a larger
    batch takes is not known.
    """
    if cost.minutes is None:
        return ""
    each = plain_number(cost.minutes / cost.recipe_portions, 1)
    batch = "a batch"
    if cost.portions != cost.recipe_portions:
        batch = f"for {counted(cost.recipe_portions, 'portion')}, as the recipe is written"
    words = f"{plain_number(cost.minutes, 1)} minutes of work {batch}, {each} a portion"
    if any(line.ingredient.startswith("dish:") for line in cost.lines):
        words += ", without that of the dishes it takes"
    if cost.work_per_portion is not None:
        money = show_money(cost.work_per_portion, cost.currency)
        words += f": {money} a portion at this kitchen's rate, which is not part of the cost"
    return f"{words}."


def line_marks(line: CostLine) -> str:
    """Return what to know of a line's name: " (edible, pantry)", " (version 2)", or nothing."""
    marks = [
        mark for mark, on in (("edible", line.state == "edible"), ("pantry", line.pantry)) if on
    ]
    if line.lines:
        marks.append(f"version {line.version}")
    return f" ({', '.join(marks)})" if marks else ""
