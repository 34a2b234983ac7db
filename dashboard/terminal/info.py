"""The command that says what the book holds."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, the_book
from dashboard.terminal.text_table import listing, text_table
from pricing.days import day_words


def info_text(found: Mapping[str, Any]) -> str:
    """Return the book's settings, counts and loads."""
    settings, counts = found["settings"], found["counts"]
    first, last = found["first_price_on"], found["last_price_on"]
    pairs = [
        ("Book", found["path"]),
        ("Currency", settings["currency"]),
        ("Measures", settings["measures"]),
        ("A price is fresh for", f"{settings['fresh_days']} days"),
        ("An older price counts half after", f"{settings['half_life_days']} days"),
        ("Whose prices count", settings["market"]),
        *((name.replace("_", " ").capitalize(), f"{many:,}") for name, many in counts.items()),
        ("Prices seen", f"{day_words(first)} to {day_words(last)}" if first else "none yet"),
        ("Official food series to", found["food_last_month"] or "none chosen"),
    ]
    loads = [
        [
            str(load["load"]),
            load["kind"],
            load["file"],
            f"{load['loaded_at']:%Y-%m-%d %H:%M}",
            f"{load['added']:,}",
            "undone" if load["undone"] else "",
        ]
        for load in found["loads"]
    ]
    table = text_table(["Load", "Kind", "File", "Loaded (UTC)", "Rows", ""], loads, right=(0, 4))
    return f"{listing(pairs)}\n\n{table}"


def info(json: Json = False) -> None:
    """Say what the book holds."""
    from pricing.book.keeping.info import info as book_info

    found = book_info(the_book())
    answer(found, lambda: info_text(found), as_json=json)
