"""Why a comparison of two dates does without an ingredient."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from pricing.book.connect import Connection
from pricing.prices.evidence import GridPrice
from pricing.prices.reasons import sightings, why_missing, why_unmeasured
from pricing.prices.rule import Rule

Ends = tuple[GridPrice, GridPrice]  # the price then, the price now


def why_left_out(
    con: Connection,
    rule: Rule,
    names: Mapping[int, tuple[str, str | None]],
    ends: Mapping[int, Ends],
    unmeasured: Collection[int],
) -> dict[int, str]:
    """Return why each ingredient of `ends` cannot be compared, by id.

    `names`: ingredient id → name and base unit. `unmeasured`: those of which an amount is not
    known; of the others a price is missing, and the one of now is told first.
    """
    lacking = {}
    for each, (then, now) in ends.items():
        if each not in unmeasured:
            lacking[each] = now if now.unit_price is None else then
    seen = sightings(con, lacking, rule)
    reasons = {}
    for each in ends:
        name, base = names[each]
        if each in lacking:
            reasons[each] = why_missing(name, lacking[each], rule, seen.get(each))
        else:
            reasons[each] = why_unmeasured(name, f"An amount of {name}", base)
    return reasons
