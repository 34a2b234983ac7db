"""Swaps in words: what they save, since when, what they bring in, whether a target is met."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from dashboard.words.allergens import allergen_words
from dashboard.words.evidence import MOVED, last_month_words, seen_words
from dashboard.words.figures import amount_words, counted, plain_number, signed_fine
from pricing.days import day_words
from pricing.money import least_shown, show_money
from pricing.swaps.swap import DISH, LEAVE_OUT

if TYPE_CHECKING:
    from pricing.swaps.evidence import PriceEvidence
    from pricing.swaps.records import SwapChoice, Swaps
    from pricing.swaps.target import SwapTarget


def amounts_words(swap: SwapChoice) -> str:
    """Return how much goes out and comes in per portion: "28 g butter → 25.2 g margarine"."""
    out = _of(swap.quantity, swap.base, swap.ingredient)
    if swap.substitute == LEAVE_OUT:
        return f"{out} out"
    put = swap.substitute.removeprefix(DISH)
    return f"{out} → {_of(swap.substitute_quantity, swap.substitute_base, put)}"


def _of(quantity: float, base: str | None, name: str) -> str:
    return f"{amount_words(quantity, base).removesuffix(' each')} {name}"


def saving_words(swap: SwapChoice, currency: str) -> str:
    """Return what a swap saves or costs per portion, or that it is too close to call."""
    if swap.saving is None:
        return "no figure"
    said = signed_fine(-swap.saving, currency)
    if said == "—":
        return "no difference"
    close = ", too close to call" if swap.too_close else ""
    if swap.typical_error is None:
        return f"{said}{close}"
    least = least_shown(currency)
    under = "under " if swap.typical_error < least else ""
    return f"{said} ± {under}{show_money(max(swap.typical_error, 2 * least), currency)}{close}"


def since_words(swap: SwapChoice) -> str:
    """Return since when the swap has been cheaper or dearer without a break."""
    since = swap.cheaper_since or swap.dearer_since
    if since is None:
        return "—"
    word = "cheaper" if swap.cheaper_since else "dearer"
    if swap.since_first_seen:
        if swap.substitute.startswith(DISH):
            seen = "all were"
        else:
            seen = "it was" if swap.substitute in (LEAVE_OUT, swap.ingredient) else "both were"
        return f"{word} since {seen} first seen, {day_words(since)}"
    return f"{word} since {day_words(since)}"


def price_words(evidence: PriceEvidence | None, on: date) -> str:
    """Return what a price rests on."""
    if evidence is None:
        return "nothing is bought"
    if evidence.basis == "missing":
        return "no price"
    seen = seen_words(evidence.observed, on) if evidence.observed else "seen"
    off = "" if not evidence.typical_error_pct else (
        f", typically off by {plain_number(evidence.typical_error_pct, 1)} %"
    )  # fmt: skip
    if evidence.basis == "observed":
        return f"{seen}{off}"
    until = last_month_words(evidence.held_at)
    by = f"moved by {evidence.series}" if evidence.series else MOVED
    return f"{seen}, {by}{until}{off}"


def target_words(found: Swaps) -> list[str]:
    """Return what it takes to reach the target, and what stands in the way if it is not reached."""
    target = found.target
    if target is None:
        return []
    money = found.currency
    asked, now = (show_money(each, money) for each in (target.amount, target.cost_per_portion))
    if target.reached and not target.chosen:
        return [f"A portion costs {now}, within {asked} already: nothing has to change."]
    chosen = sorted(target.chosen, key=lambda each: -each.saving)
    named = ", ".join(each.in_words() for each in chosen)
    many = counted(len(target.chosen), "change")
    if target.reached:
        lines = [f"{many} reach{'es' if len(target.chosen) == 1 else ''} {asked}: {named}. "
                 f"A portion then costs {now}."]  # fmt: skip
        lines += _cheaper_set(target, money)
    elif not found.complete:
        lines = ["A line of this dish has no price, so no target can count as reached. "
                 f"With {named or 'no change'} the priced lines cost {now}."]  # fmt: skip
    else:
        lines = [f"{asked} cannot be reached with these swaps. The lowest is {now}, "
                 f"{show_money(target.short_by, money)} over it, with "
                 f"{named or 'no change at all'}."]  # fmt: skip
        lines += _in_the_way(target, money)
    if not target.proven:
        lines.append("There may be a better choice: the search was stopped before it had seen all.")
    if target.chosen:
        said = allergen_words(target.allergens_added, target.allergens_removed, found.allergen_list)
        lines.append(f"Allergens, all of them together: {said}. Check the labels.")
    return lines


def _cheaper_set(target: SwapTarget, currency: str) -> list[str]:
    """Return why the chart shows a lower cost with as few changes, where it does."""
    as_few = [each for each in target.frontier if each.changes <= len(target.chosen)]
    lowest = show_money(min(each.cost_per_portion for each in as_few), currency)
    if lowest == show_money(target.cost_per_portion, currency):
        return []
    these = "this changes" if len(target.chosen) == 1 else "these change"
    return [f"As few changes could bring it to {lowest}; {these} the recipe less."]


def unknown_words(found: Swaps) -> str:
    """Return what is behind an allergen change that is unknown; "" when none is."""
    changes = [
        each for swap in found.swaps for each in (swap.allergens_added, swap.allergens_removed)
    ]
    if "unknown" not in changes:
        return ""
    return (
        "Unknown: an ingredient of this dish, or what takes its place, has no allergen record yet, "
        "or a word in it that the list of allergens does not know. "
    )


def _in_the_way(target: SwapTarget, currency: str) -> list[str]:
    dearest = target.in_the_way[:3]
    if not dearest:
        return []
    costs = "; ".join(
        f"{each.ingredient} {show_money(each.cost_per_portion, currency)} ({each.why})"
        for each in dearest
    )
    return [f"What keeps the cost up, per portion: {costs}."]
