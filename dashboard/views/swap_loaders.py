"""What the pages keep of swaps and of shops for dishes, as `loaders` does for the rest."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from dashboard.views.book import State, book_of, day_of, kept, kept_of_book, shared, whose
from pricing.swaps.history import SwapHistory, swap_history
from pricing.swaps.of_catalogue import (
    CatalogueSwaps,
    OverTarget,
    catalogue_swaps,
    dishes_over_target,
)
from pricing.swaps.of_dish import WeighedSwaps, choose_swaps, weigh_swaps
from pricing.swaps.records import Swaps
from pricing.swaps.swap import SwapName
from pricing.till.records import Till
from pricing.till.shop import shop_for


@dataclass(frozen=True, kw_only=True)
class SwapsAsked:
    """What is asked of the swaps of a dish beside its day: a target, what stays, what few means."""

    target: float | None = None  # per portion
    keep: tuple[str, ...] = ()
    least_disturbing: bool = False


@kept
def swaps_of(state: State, dish: str, on: date, version: str | None, asked: SwapsAsked) -> Swaps:
    """Return the swaps of a dish; with a target, those that reach it."""
    return choose_swaps(
        _weighed(state, dish, on, version), target=asked.target, keep=asked.keep,
        least_disturbing=asked.least_disturbing,
    )  # fmt: skip


@shared
def _weighed(state: State, dish: str, on: date, version: str | None) -> WeighedSwaps:
    return weigh_swaps(book_of(state), dish, on=on, version=version, **whose(state))


@kept
def swap_history_of(
    state: State, dish: str, swap: SwapName, on: date, version: str | None
) -> SwapHistory:
    """Return what a swap of a dish would have saved month by month."""
    return swap_history(
        book_of(state), dish, (swap.ingredient, swap.substitute), on=on, version=version,
        purchase=(swap.supplier, swap.product, swap.pack), **whose(state),
    )  # fmt: skip


@kept
def till_of(
    state: State, dishes: tuple[tuple[str, float], ...], on: date, supplier: str | None,
    pantry: bool, version: tuple[str, str] | None,
) -> Till:  # fmt: skip
    """Return what a shop for dishes (each with its batches) costs; `version`: of one of them."""
    return shop_for(
        book_of(state), dishes, on=on, supplier=supplier, pantry=pantry,
        version=dict([version]) if version else None, **whose(state),
    )  # fmt: skip


@kept_of_book
def over_target_of(state: State) -> tuple[OverTarget, ...]:
    """Return the dishes over their target on the day, without what each swap would save."""
    return dishes_over_target(book_of(state), on=day_of(state), **whose(state))


@kept_of_book
def catalogue_swaps_of(state: State, on: date) -> CatalogueSwaps:
    """Return the swaps over all dishes, and the dishes over their target."""
    return catalogue_swaps(book_of(state), on=on, **whose(state))
