"""Says what a book holds: its settings, counts, dates and loads."""

from __future__ import annotations

import dataclasses
from typing import Any

from pricing.book import migrate
from pricing.book.connect import Book, reading
from pricing.book.read import read_settings, rows


def info(book: Book) -> dict[str, Any]:
    """Return what the book holds, as plain values.

    `path`, `size_bytes`, `structure` (number of the last step taken), `settings` (by name),
    `counts` (what is in force, and `observations_retracted`), `first_price_on`, `last_price_on`
    (dates or None), `food_last_month`, `all_items_last_month` (YYYY-MM or None), `loads` (each:
    its number, kind, file, loaded_at in UTC, added, already, undone; oldest first) and `last_load`
    (the last of these that a user made, or None). Raises BookUnreadable.
    """
    with reading(book) as con:
        (counts,) = rows(con, "keeping/info_counts")
        loads = rows(con, "keeping/info_loads")
        settings = dataclasses.asdict(read_settings(con))
        structure = max(migrate.applied(con))
    dated = ("first_price_on", "last_price_on", "food_last_month", "all_items_last_month")
    own = [load for load in loads if load["file"] != "bundled"]
    return {
        "path": str(book.path),
        "size_bytes": book.path.stat().st_size,
        "structure": structure,
        "settings": settings,
        "counts": {name: many for name, many in counts.items() if name not in dated},
        **{name: counts[name] for name in dated},
        "last_load": own[-1] if own else None,
        "loads": loads,
    }
