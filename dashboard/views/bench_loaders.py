"""What the test bench keeps of what it read, as `loaders` does for the rest."""

from __future__ import annotations

from datetime import date

from dashboard.views.book import State, book_of, kept, whose
from pricing.bench.records import SideBySide
from pricing.bench.side_by_side import side_by_side

Beside = tuple[tuple[str, str], ...]  # dishes with their versions


@kept
def side_by_side_of(
    state: State, dishes: Beside, on: date, exchange: Beside, add: Beside
) -> SideBySide:
    """Return recipes side by side; `exchange` and `add` as in `side_by_side`."""
    return side_by_side(
        book_of(state), dishes, on=on, exchange=exchange, add=add, **whose(state)
    )  # fmt: skip
