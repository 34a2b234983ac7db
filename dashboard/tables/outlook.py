"""The series that carry an outlook, as a table."""

from __future__ import annotations

import pandas as pd

from dashboard.tables.cells import DASH
from dashboard.words.figures import percent
from dashboard.words.markdown import ingredient_link, plain, unbroken
from dashboard.words.outlook import lent_words, series_words
from pricing.ahead.records import Outlook

SHORT = "Where its own is short"


def series_rows(found: Outlook) -> pd.DataFrame:
    """Return a row for each ingredient that is paid for, the dearest first.

    The last column stands only where a series lacks something.
    """
    rows = pd.DataFrame(
        [
            {
                "Ingredient": ingredient_link(each.ingredient),
                "Share": unbroken(percent(each.share)),
                "Moves as": plain(series_words(each)),
                SHORT: plain(lent_words(each) or DASH),
            }
            for each in found.series
        ]
    )
    return rows if any(map(lent_words, found.series)) else rows.drop(columns=SHORT)
