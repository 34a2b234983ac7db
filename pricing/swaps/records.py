"""The records of the swaps in a dish: each with its figures, and the whole."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from pricing.answer import Answer
from pricing.swaps.evidence import (
    PriceEvidence,
)
from pricing.swaps.swap import SwapName
from pricing.swaps.target import SwapTarget

CAUTION = (
    "Allergens are told from the ingredient records only: check the labels. A swap can change "
    "cooking time, core temperature and texture: test it. Follow your local food rules."
)


@dataclass(frozen=True, kw_only=True)
class SwapChoice(SwapName, Answer):
    """One swap in a dish (contract §3). Money per portion, in the book's currency."""

    cost_per_portion: float | None  # with this swap alone
    saving: float | None
    saving_pct: float | None  # of the cost per portion
    allergens_added: tuple[str, ...] | str  # or "unknown"
    allergens_removed: tuple[str, ...] | str
    cheaper_since: date | None  # None: it is not cheaper now
    dearer_since: date | None
    since_first_seen: bool  # that day is merely the first by which all prices had been seen
    note: str | None
    stated_ratio: float  # as entered
    ratio_state: str  # as_purchased or edible
    quantity: float  # of the ingredient per portion, as purchased, in `base`
    base: str
    substitute_quantity: float  # in `substitute_base`
    substitute_base: str | None
    typical_error: float | None  # of the saving; None: of prices of one source each, as seen
    too_close: bool  # what it saves or costs is within that error
    basis: str  # the weakest of both prices: missing, bridged, observed
    price: PriceEvidence
    substitute_price: PriceEvidence | None  # None: left out, or a dish that cannot be measured
    disturbance: float | None  # as stated
    reason: str | None  # why there are no figures
    row: int  # of the book, by which it is taken back


@dataclass(frozen=True, kw_only=True)
class Swaps(Answer):
    """The swaps of a dish on a date (contract §3), the largest saving first."""

    dish: str
    version: str
    on: date
    currency: str
    cost_per_portion: float
    complete: bool  # false: the cost is "at least"
    swaps: tuple[SwapChoice, ...]
    target: SwapTarget | None
    dish_target: float | None  # that the kitchen has set for the dish, per portion
    locked: tuple[str, ...]  # ingredients that stay
    elsewhere: tuple[str, ...]  # swaps that are stated not to work in this dish, in words
    allergen_list: str  # eu or us: whose standard names are shown on screen
    caution: str
