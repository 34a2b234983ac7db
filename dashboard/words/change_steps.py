"""The steps of a change in words, one by one: prices that moved, changes of the recipe."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from dashboard.words.figures import NOTHING, plain_number
from pricing.change.shown import ShownComparison
from pricing.money import least_shown

if TYPE_CHECKING:
    from pricing.change.records import Comparison, IngredientChange

MOST_TOLD = 4  # steps told one by one


@dataclass(frozen=True, kw_only=True)
class Said:
    """One step of a change in words."""

    words: str
    effect: float  # per portion
    shown: Decimal  # as it is shown; the steps of a part add up to the part as shown
    others: bool = False  # all that are not told one by one


def price_steps(found: Comparison, whole: ShownComparison, others: str) -> list[Said]:
    """Return the largest moves of a price, then all `others` in one."""
    steps = [
        Said(
            words=f"{each.ingredient} {'dearer' if by > 0 else 'cheaper'}",
            effect=by,
            shown=whole.prices[each.ingredient],
        )
        for each in found.compared
        if (by := each.price_effect)
    ]
    return _largest(steps, others, found.price_effect, whole.by_price, found.currency)


def recipe_steps(found: Comparison, whole: ShownComparison, others: str) -> list[Said]:
    """Return the largest changes of the recipe, then all `others` in one."""
    steps = list(_recipe_changes(found, whole))
    return _largest(steps, others, found.recipe_effect, whole.by_recipe, found.currency)


def _largest(
    steps: Sequence[Said], others: str, whole: float, shown: Decimal, currency: str
) -> list[Said]:
    """Return the largest steps of an effect, then one of all others where there are any."""
    ranked = sorted(steps, key=lambda each: -abs(each.effect))
    least = least_shown(currency)
    kept = [each for each in ranked[:MOST_TOLD] if abs(each.effect) >= least or each.shown]
    rest = whole - sum(each.effect for each in kept)
    left = shown - sum((each.shown for each in kept), Decimal(0))
    if abs(rest) >= NOTHING or left:
        kept.append(Said(words=others, effect=rest, shown=left, others=True))
    return kept


def _recipe_changes(found: Comparison, whole: ShownComparison) -> Iterator[Said]:
    """Yield every change of the recipe; their effects add up to the recipe effect."""
    done: set[str] = set()
    by_name = {each.ingredient: each for each in found.compared}
    for name, each in by_name.items():
        parts = each.recipe_parts
        if parts is None or name in done:
            continue
        if parts.swapped_with is not None:
            done |= {name, parts.swapped_with}
            yield _swap(each, by_name[parts.swapped_with], whole)
            continue
        less = "fewer" if each.base == "each" else "less"
        if parts.amount and parts.trim:  # told as one: by itself neither is bought, nor in a table
            effect = parts.amount + parts.trim
            more = "more" if effect > 0 else less
            yield Said(
                words=f"{more} {name} to buy, the trim counted",
                effect=effect,
                shown=whole.recipe_parts[name, "amount"] + whole.recipe_parts[name, "trim"],
            )
            parts = replace(parts, amount=0.0, trim=0.0)
        more = "more" if parts.amount > 0 else less
        for part, words in (
            ("amount", f"{more} {name}"),
            ("trim", f"the trim of {name}"),
            ("added", f"{name} added"),
            ("dropped", f"{name} left out"),
        ):
            if parts[part]:
                yield Said(words=words, effect=parts[part], shown=whole.recipe_parts[name, part])
    if found.recipe_parts.portions:
        then, now = (plain_number(side.portions) for side in (found.then, found.now))
        words = f"{now} portions to the batch instead of {then}"
        yield Said(words=words, effect=found.recipe_parts.portions, shown=whole.portions)


def _swap(one: IngredientChange, other: IngredientChange, whole: ShownComparison) -> Said:
    new, old = (one, other) if one.quantity_now else (other, one)
    effect = sum(each.recipe_parts.swapped for each in (one, other) if each.recipe_parts)
    both = [whole.recipe_parts.get((each.ingredient, "swapped")) for each in (one, other)]
    return Said(
        words=f"{new.ingredient} instead of {old.ingredient}",
        effect=effect,
        shown=sum((each for each in both if each is not None), Decimal(0)),
    )
