"""What the book itself holds, as a cook reads it in a terminal."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from dashboard.answers import listing
from dashboard.text_table import text_table
from dashboard.words import counted
from pricing.book.keeping.check import CheckReport
from pricing.days import day_words


def info_text(found: Mapping[str, Any]) -> str:
    """Return the book's settings, counts and loads."""
    held, counts = found["settings"], found["counts"]
    first, last = found["first_price_on"], found["last_price_on"]
    pairs = [
        ("Book", found["path"]),
        ("Currency", held["currency"]),
        ("Measures", held["measures"]),
        ("A price is fresh for", f"{held['fresh_days']} days"),
        *((name.replace("_", " ").capitalize(), f"{many:,}") for name, many in counts.items()),
        ("Prices seen", f"{day_words(first)} to {day_words(last)}" if first else "none yet"),
        ("Official food series to", found["food_last_month"] or "none chosen"),
    ]
    batches = [
        [
            str(batch["batch"]),
            batch["kind"],
            batch["file"],
            f"{batch['loaded_at']:%Y-%m-%d %H:%M}",
            f"{batch['added']:,}",
            "undone" if batch["undone"] else "",
        ]
        for batch in found["batches"]
    ]
    loads = text_table(["Batch", "Kind", "File", "Loaded (UTC)", "Rows", ""], batches, right=(0, 4))
    return f"{listing(pairs)}\n\n{loads}"


def check_text(found: CheckReport) -> str:
    """Return what is damaged, or that nothing is."""
    rows = sum(found.counts.values())
    if not found.problems:
        return f"Read {counted(rows, 'row')} of {counted(len(found.counts), 'table')}: all is well."
    return "\n".join([f"{counted(len(found.problems), 'problem')} found:", *found.problems])
