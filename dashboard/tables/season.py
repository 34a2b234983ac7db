"""The months of the year for the chart of a season, and the patterns behind a dish as a table."""

from __future__ import annotations

import calendar

import pandas as pd

from dashboard.words import season as words
from dashboard.words.figures import percent
from dashboard.words.markdown import ingredient_link, plain, unbroken
from pricing.season.season import Season


def month_rows(found: Season) -> pd.DataFrame:
    """Return the twelve months, as charts.season takes them."""
    cheap = words.cheap_months(found)
    return pd.DataFrame(
        [
            {
                "month": calendar.month_abbr[month],
                "change": 100 * (relative - 1),
                "cheap": month in cheap,
                "shown": words.against_year(relative),
                "said": f"{calendar.month_name[month]}: {words.against_year(relative)}"
                + (", one of the cheapest months" if month in cheap else ""),
            }
            for month, relative in enumerate(found.relatives, start=1)
        ]
    )


def part_rows(found: Season) -> pd.DataFrame:
    """Return the ingredients of a dish with their patterns, as a table of Markdown."""
    columns = ["Cheapest", "Swing", "Pattern", "Read from"]
    return pd.DataFrame(
        [
            {
                "Ingredient": ingredient_link(part.ingredient, "season"),
                "Share": unbroken(percent(part.share)),
            }
            | dict(zip(columns, map(plain, words.pattern_cells(part)), strict=True))
            for part in found.parts
        ]
    )  # fmt: skip
