"""How much of an ingredient a target allows, in words; and which portion meets it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dashboard.words.figures import amount_words, counted, percent
from pricing.days import day_words
from pricing.money import show_money

if TYPE_CHECKING:
    from pricing.dishes.amount import AmountAtTarget


def amount_heading(found: AmountAtTarget) -> str:
    """Return what a portion costs, and whether that is within the target."""
    return (
        f"{found.dish}, version {found.version}, at prices of {day_words(found.on)}: "
        f"{show_money(found.cost_per_portion, found.currency)} a portion, "
        f"{'within' if found.reached else 'over'} the target of {_target(found)}."
    )


def amount_sentence(found: AmountAtTarget) -> str:
    """Return how much of the ingredient may go in, and how much does now."""
    if found.amount is None:
        return (
            f"Without any {found.ingredient} a portion costs "
            f"{show_money(found.rest_per_portion, found.currency)}: no amount of it meets "
            f"{_target(found)}."
        )
    return (
        f"At {_target(found)} a portion, a batch of {counted(found.portions, 'portion')} may take "
        f"{amount_words(found.amount, found.base)} of {found.ingredient} as purchased, and all "
        f"else as it is; it takes {amount_words(found.amount_now, found.base)} now."
    )


def portion_sentence(found: AmountAtTarget) -> str:
    """Return which portion of the batch as it is meets the target."""
    if found.portions_at_target == found.portions:
        many = counted(found.portions, "portion")
        return f"The batch as it is meets it in {many}; in fewer it does not."
    grams = "" if found.portion_g is None else f" ({amount_words(found.portion_g, 'g')})"
    each = show_money(found.cost_per_portion * found.portion_share, found.currency)
    return (
        f"Or the batch as it is makes {counted(found.portions_at_target, 'portion')} of "
        f"{percent(found.portion_share)} of a portion now{grams}, at {each} each."
    )


def _target(found: AmountAtTarget) -> str:
    return show_money(found.target, found.currency)
