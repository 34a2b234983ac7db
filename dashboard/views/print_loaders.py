"""What the room Print asks of the book beside `loaders`, kept in the same way."""

from __future__ import annotations

from dashboard.views.book import State, book_of, day_of, kept
from pricing.reprint.records import Reprint
from pricing.reprint.round import reprint_round


@kept
def reprint_of(state: State, dish: str | None) -> Reprint:
    """Return what a reprint of every figure in force needs, or of one dish."""
    return reprint_round(book_of(state), [dish] if dish else None, on=day_of(state))
