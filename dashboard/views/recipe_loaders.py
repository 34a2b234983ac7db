"""What the pages keep of recipes being written, for one state of the book as `loaders` does."""

from __future__ import annotations

from collections.abc import Sequence

from dashboard.views.book import State, book_of, day_of, kept, shared_of_book, today_of, whose
from ingest.dish_by_hand import CostAsked, DishPreview, preview_dish
from ingest.kinds.checked import Options
from pricing.book.known import KnownIngredient
from pricing.contents.facts import ingredient_facts
from pricing.dishes.cost_lines import PricesKept
from pricing.dishes.written import WrittenVersion, written_version
from pricing.prices.asked_rule import Filters
from pricing.swaps.as_lines import SwappedVersion, swapped_version
from pricing.swaps.swap import SwapName

Texts = tuple[tuple[str, str], ...]  # of columns


@kept
def preview_of(state: State, head: Texts, lines: Sequence[Texts], replace: bool) -> DishPreview:
    """Return what a version would be: costed today and on the day chosen, in that order."""
    today = today_of(state)
    days = list(dict.fromkeys([today, day_of(state)]))
    asked = CostAsked(days=days, whose=_filters(state), kept=_prices_kept(state))
    return preview_dish(
        book_of(state), dict(head), [dict(line) for line in lines],
        options=Options(today=today, replace=replace), asked=asked,
    )  # fmt: skip


@shared_of_book
def _prices_kept(state: State) -> PricesKept:
    """Return the prices asked for while recipes were written, so that an amount is costed soon."""
    return PricesKept()


def _filters(state: State) -> Filters:
    asked = whose(state)
    return Filters(market=asked["market"], not_supplier=asked["not_supplier"])


@kept
def written_of(state: State, dish: str, version: str | None) -> WrittenVersion:
    """Return a version as it was entered; None: the one in force on the day chosen."""
    return written_version(book_of(state), dish, version, day_of(state))


@kept
def swapped_of(
    state: State, dish: str, version: str | None, swaps: tuple[SwapName, ...]
) -> SwappedVersion:
    """Return the lines of a version with swaps made, by the day chosen."""
    return swapped_version(book_of(state), dish, version, swaps, on=day_of(state))


@kept
def facts_of(state: State, ingredient: str) -> KnownIngredient:
    """Return the facts of an ingredient."""
    return ingredient_facts(book_of(state), ingredient)
