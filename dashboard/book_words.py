"""What the book itself holds, as a cook reads it in a terminal."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from dashboard.answers import listing
from dashboard.text_table import text_table
from dashboard.words import counted
from pricing.answer import month_text
from pricing.book.check import CheckReport
from pricing.indices import SeriesFacts, SeriesShown
from pricing.words import day_words


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


def series_list_text(found: Sequence[SeriesFacts]) -> str:
    """Return the official series with their months and who leans on them."""
    if not found:
        return "The book holds no official series. Load one with `portiondrift index load FILE`."
    rows = [
        [
            each.series,
            "—" if each.first_month is None else month_text(each.first_month),
            "—" if each.last_month is None else month_text(each.last_month),
            str(each.ingredients),
            each.parent or "",
            each.title or "",
        ]
        for each in found
    ]
    return text_table(["Series", "From", "To", "Ingredients", "Wider", "Title"], rows, right=(3,))


def series_text(found: SeriesShown) -> str:
    """Return one series: what it is, its ladder, its last two years."""
    facts = found.facts
    adjusted = {True: "seasonally adjusted", False: "not seasonally adjusted", None: "not stated"}
    pairs = [
        ("Series", facts.series),
        ("Title", facts.title or "—"),
        ("Ladder", " → ".join(title or series for series, title in found.ladder)),
        ("Classification", facts.classification or "—"),
        ("Season", adjusted[facts.seasonally_adjusted]),
        ("Months", f"{facts.months:,}"),
        ("Ingredients", f"{facts.ingredients}"),
        ("Months with revisions", f"{facts.revised}"),
    ]
    rows = [[month_text(month), f"{value:g}"] for month, value in found.months[-24:]]
    if not rows:
        return listing(pairs)
    return f"{listing(pairs)}\n\n{text_table(['Month', 'Value'], rows, right=(1,))}"
