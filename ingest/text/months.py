"""The names of months, in the languages of lists and receipts."""

from __future__ import annotations

from functools import cache

from pricing.reference.table import read_table


@cache
def months() -> dict[str, int]:
    """Return the name of a month or its short form, folded (`ingest.text.fold`) → its number.

    >>> months()["marz"], months()["dec"], "jui" in months()
    (3, 12, False)
    """
    return {row["word"]: int(row["month"]) for row in read_table("months.csv", __package__)}
