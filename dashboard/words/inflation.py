"""Says what the kitchen's own index leaves out, and how its numbers are signed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dashboard.words.figures import counted

if TYPE_CHECKING:
    from pricing.inflation.records import Inflation


def nameless(title: str) -> str:
    """Return what stands for what has no category, or no group."""
    return "no group" if "group" in title.lower() else "no category"


def left_out_sentence(found: Inflation) -> str:
    """Return which ingredients the index does without, and why."""
    names = ", ".join(
        f"{each.ingredient} ({counted(each.months_missing, 'month')} without a price)"
        if each.months_missing
        else f"{each.ingredient} (its quantity cannot be told)"
        for each in found.left_out
    )
    return f"Left out of every month, so that all compare: {names}."
