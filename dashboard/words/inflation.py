"""Says what the kitchen's own index leaves out, cannot tell, or has no official figure for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dashboard.words.figures import counted, listed
from dashboard.words.states import ALL, FOOD
from pricing.days import month_words

if TYPE_CHECKING:
    from pricing.inflation.records import Inflation


def nameless(title: str) -> str:
    """Return what stands for what has no category, or no group."""
    return "no group" if "group" in title.lower() else "no category"


ESTIMATED = (
    "This kitchen's line is dashed where most of its prices were not seen but estimated from "
    "official prices."
)
NO_INDEX = (
    "No index: no ingredient of these dishes has a price in all of these months. Load dishes and "
    "prices, or choose later months."
)


def level_words(level: float | None) -> str:
    """Return an index of the first month = 100, a dash where there is none."""
    return "—" if level is None else f"{level:.1f}"


def left_out_sentence(found: Inflation) -> str:
    """Return which ingredients the index does without, and why."""
    names = ", ".join(
        f"{each.ingredient} ({counted(each.months_missing, 'month')} without a price)"
        if each.months_missing
        else f"{each.ingredient} (its quantity cannot be told)"
        for each in found.left_out
    )
    return f"Left out of every month, so that all compare: {names}."


_FORMULAS = {"tornqvist": "Törnqvist", "vartia_1": "Vartia I", "vartia_2": "Vartia II"}


def settled_markets(found: Inflation) -> str | None:
    """Return whose prices count of each ingredient whose market was settled; None without any."""
    one: dict[str, list[str]] = {}
    for each in found.by_ingredient:
        if each.marked:
            how = (
                f"{each.market} prices in all months" if each.market else "prices of either market"
            )
            one.setdefault(how, []).append(each.name or "")
    parts = [f"{listed(names)} at {how}" for how, names in one.items()]
    return f"So that all months compare: {'; '.join(parts)}." if parts else None


def not_worked_out(found: Inflation) -> str | None:
    """Return which formulas have no answer for the last month, and why; None when all have."""
    names = [
        _FORMULAS.get(each, each.replace("_", " ").capitalize())
        for each, index in found.formulas.items()
        if index is None
    ]
    if not names:
        return None
    first, last = month_words(found.from_month), month_words(found.to_month)
    why = (
        f"nothing that the recipes of {last} take is in the index"
        if found.formulas["paasche"] is None
        else f"the recipes of {first} and of {last} share no ingredient of the index"
    )
    return f"{listed(names)} cannot be worked out: {why}."


def official_end(found: Inflation) -> str | None:
    """Return where the official series end, if that is before the last month; None if not."""
    ends: dict[str, list[str]] = {}
    for name, field in ((FOOD, "official_food"), (ALL, "official_all")):
        own = [each.month for each in found.months if each[field] is not None]
        if own and own[-1] != found.to_month:
            ends.setdefault(own[-1], []).append(name)
    parts = [f"{listed(names)} to {month_words(month)}" for month, names in ends.items()]
    return f"Official figures so far: {', '.join(parts)}." if parts else None
