"""What the pages keep of outlooks, as `loaders` does for the rest."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from dashboard.views.book import State, book_of, kept, whose
from pricing.ahead.outlook import outlook
from pricing.ahead.records import Outlook

USUAL_MONTHS = 4  # ahead, unless others are asked for: from a costing to the issue that prints it


@dataclass(frozen=True, kw_only=True)
class AheadAsked:
    """What is asked of an outlook: months ahead or a day, which version, and a target."""

    months: int | None = None
    on: date | None = None
    version: str | None = None
    target: float | None = None  # per portion


@kept
def outlook_of(state: State, dish: str | None, asked: AheadAsked) -> Outlook:
    """Return what a portion of a dish (None: the mean of all) may cost on a later day."""
    return outlook(
        book_of(state), dish, months=asked.months, on=asked.on, version=asked.version,
        target=asked.target, **whose(state),
    )  # fmt: skip
